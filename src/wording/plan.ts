/** Every plan finding as a sentence: what is wrong and what would do. A missing one does not compile. */
import type { JobSource } from '../file/read.js';
import type { JobFaultCode } from '../job/fault.js';
import type { Job } from '../job/job.js';
import type { PlanCode, PlanFinding } from '../plan/finding.js';
import { alike } from '../quantity/alike.js';
import { fixed, trimmed } from '../quantity/decimal.js';
import { type Say, sayIn } from '../quantity/say.js';
import { FAULT_CODES, faultSentence, isFault, list } from './fault.js';

type OwnCode = Exclude<PlanCode, JobFaultCode>;
type Wording = {
  readonly [Code in OwnCode]: (finding: Extract<PlanFinding, { readonly code: Code }>, say: Say) => string;
};

const wording: Wording = {
  'flats-open': (f) =>
    `the flats do not close (${f.flats.length === 1 ? 'flat' : 'flats'} ${list(f.flats)} run out into the blank), so the corners cannot be sharp; write corners: as the blank leaves them, or add flats`,
  'flat-vanishes': (f, say) =>
    `nothing is left of flat ${f.flat} at a depth of ${say.length(f.depth)}; move it inward, or make the flats shorter or the relief smaller`,
  'standing-short': (f, say) =>
    `flat ${f.flat} stands ${say.length(f.length)} long, and the wheel would meet the raw blank behind it in one bite; ${say.length(f.wouldDo)} long does, or shorter flats (punch.flatLength), or leave blank.flats out`,
  'standing-under': (f, say) =>
    `flat ${f.flat} stands ${say.length(f.distance)} from the axis, under the least of ${say.length(f.least)}: this blank makes a smaller punch only`,
  'flat-outside-blank': (f, say) =>
    `flat ${f.flat} lies ${say.length(f.distance)} from the axis, the blank reaches only ${say.length(f.blank)} there; take a larger blank or a smaller section`,
  'blank-too-small': (f, say) =>
    `the corners stick out of the blank by ${say.length(f.by)} and would stay round without relief; a blank of ${say.length(f.wouldDo)} covers them, or write corners: as the blank leaves them`,
  'wheel-too-small': (f, say) =>
    `a wheel of ${say.length(f.diameter)} does not span the flat; ${say.length(f.wouldDo)} does with room`,
  'nose-in-reach': (f, say) =>
    `the rim ${f.gap > 0 ? `comes within ${say.length(f.gap)} of the holding nose` : 'runs into the holding nose'}, ${say.length(f.clearance)} must stay; a stick-out of ${say.length(f.wouldDo)} gives it`,
  'travel-short': (f, say) =>
    `${f.axis.toUpperCase()} must travel ${say.length(f.need)} and has ${say.length(f.have)}; use a smaller wheel or retract, or another machine`,
  'travel-outside': (f, say) =>
    `${f.axis.toUpperCase()} would run from ${say.length(f.from)} to ${say.length(f.to)} in machine coordinates, its limits are ${say.length(f.least)} and ${say.length(f.most)}; move the work zero, or use a smaller wheel or retract`,
  'stroke-too-deep': (f, say) =>
    `flat ${f.flat} takes ${f.strokes} passes at this infeed, ${f.most} are allowed, so each would have to go deeper than it may; ${f.held ? 'a higher grinding.limit.removalRate or a slower stroke, or ' : f.infeed === 'none' ? '' : `a rough infeed of ${say.length(f.infeed)} would do, or `}more grinding.mostStrokes`,
  'infeed-too-fine': (f, say) =>
    `an infeed of ${say.fine(f.infeed)} is less than the program's last digit, ${say.length(f.lastDigit)}, so some strokes would go deeper; ${say.length(f.lastDigit)} or more`,
  'decimals-too-few': (f) =>
    `${f.decimals} decimals cannot place a flat within a micrometre; program.decimals: ${f.wouldDo} in the machine profile can`,
  'limit-too-low': (f, say) =>
    `even an infeed of ${say.length(f.infeed)}, the program's last digit, removes ${say.removal(f.least)}, more than the limit of ${say.removal(f.limit)}; a stroke speed of ${say.feed(f.strokeSpeed)} or that limit would do`,
  'wears-too-fast': (f) =>
    `the rim would lose ${Math.round(100 * f.share)} % of every bite, too fast to be followed by prediction; write wear: ignore and measure, or take a wheel with a grinding ratio of ${Math.ceil(f.ratio)} or a wider rim`,
  'burn-risk': (f, say) =>
    `${say.specific(f.specific)} on each ${say.unit} of width may burn a punch ground ${f.coolant} at this stroke, where ${say.specific(f.most)} is the limit; ${f.cooler === 'none' ? '' : `the same metal at ${say.feed(f.cooler.strokeSpeed)} in infeeds of ${say.length(f.cooler.infeed)}, or `}an infeed of ${say.length(f.infeed)} keeps it`,
  'wear-unproved': (f, say) =>
    `the rim may lose ${say.length(f.loss)} before the last flat, more than half the tolerance (${say.length(f.most)}), and that is only predicted; write order: rough first and measuringStop: after roughing`,
  'standing-inside': (f, say) =>
    `the flat that stands at ${say.angle(f.at)} lies ${say.length(f.by)} inside the section ordered, whose corners would be missing there; turn it otherwise (blank.flats), or order a smaller one`,
  'nothing-to-touch': (f) =>
    `flat ${f.flat} comes up where an edge between old flats stands, neither raw blank nor a flat to touch off on; turn the old flats so that one lies under flat ${f.flat}`,
  'dressing-late': (f, say) =>
    `flat ${f.flat} alone takes ${say.volume(f.volume)} off, and the wheel is dressed only between flats; a volume of as much, or order: rough first, keeps to it`,
  'wrong-abrasive': (f) => `${f.abrasive} is no wheel for ${f.material}: take ${f.instead}`,
  'grade-hard': (f) =>
    `grade ${f.grade} is hard for ${f.material} ground ${f.coolant}: it glazes, rubs and burns; ${f.usual[0]} to ${f.usual[1]} in grit ${f.grit[0]} to ${f.grit[1]} is usual`,
  'marked-fast': (f) =>
    `${fixed(f.surface, 1)} m/s at the rim is more than ${f.bond === 'none' ? 'cup wheels' : `${f.bond} cup wheels`} are usually marked with (${fixed(f.usual, 0)} m/s); read speed and diameter on the wheel once more`,
  'temper-risk': (f) =>
    `this steel loses its hardness above some ${Math.round(f.temper)} C, and ground dry its end runs about ${Math.round(f.over)} K over the room, hotter under the wheel; grind wet, or write grinding.rest, such as {every: 20, for: 30 s}${f.byAxis ? ', or order: one pass all round' : ''}`,
  'power-short': (f, say) =>
    `grinding may ask for ${Math.ceil(f.power)} W, ${Math.floor(f.most)} W are there; an infeed of ${say.length(f.infeed)} does`,
  'blank-bends': (f, say) =>
    `the blank gives way by ${say.fine(f.bending)} under the wheel, ${Math.round(100 * f.share)} % of the tolerance, where ${Math.round(100 * f.most)} % is the limit; an infeed of ${say.length(f.infeed)} there, or a shorter stick-out`,
  'wear-unseen': (f, say) =>
    `as predicted the rim wears so much that a size comes out ${say.length(f.bias)} large, over the tolerance of ${say.length(f.tolerance)}; write order: rough first and measuringStop: after roughing and set the rim anew there, or wear: compensate, or take a harder wheel`,
  'under-socket': (f, say) =>
    `${say.length(f.size)} less its tolerance falls under the socket's least size of ${say.length(f.least)}; a minus of ${say.length(f.minus)} keeps it`,
  'over-other-limit': (f, say) =>
    `${say.length(f.size)} is over the ${say.length(f.most)} of another table (${f.table}); a smaller punch.socketShare suits both`,
  'figures-assumed': (f) =>
    `no figures for ${f.material} under ${f.abrasive}; loads and wear are those of ${f.asMaterial} under ${f.asAbrasive}`,
  'wheel-too-narrow': (f, say) =>
    `a plain wheel ${say.length(f.width)} wide does not cover the flat; one of ${say.length(f.wouldDo)} or wider does in one stroke`,
  'dial-too-coarse': (f, say) =>
    `a finish infeed of ${say.length(f.asked)} is finer than the dial shows; the last passes are planned at ${say.length(f.shows)}, or watch them on an indicator`,
  'guard-meets-nose': (f, say) =>
    `the guard comes within the clearance of the holding nose, by ${say.length(f.by)}, and never comes off; a stick-out of ${say.length(f.wouldDo)} keeps them apart`,
  'guard-meets-blank': (f, say) =>
    `behind the flat the blank stands ${say.length(f.rises)} over the rim, and the guard only ${say.length(f.back)} back from it; it never comes off: take a thinner blank, shorter flats or another machine`,
  'little-to-hold': (f, say) =>
    `${f.left > 0 ? `${say.length(f.left)} of the punch are` : 'nothing of the punch is'} left to hold it by; ${f.wouldDo === 'none' ? '' : `a stick-out of ${say.length(f.wouldDo)} or less, or `}cut the blank to its length after grinding`,
  'punch-too-short': (f, say) =>
    `a punch ${say.length(f.length)} long has no room for flats of ${say.length(f.flats)} and a shank; it counts from the shank's rear end to the face`,
  'shank-odd': (f, say) =>
    `a shank of ${say.length(f.shank)} goes with no blank of ${say.length(f.blank)}; its diameter is wanted, as the head takes it`,
  'thin-clearance': (f, say) =>
    `only ${say.angle(f.clearance)} of clearance is left in the head; a relief of ${say.angle(f.wouldDo)} leaves half a degree`,
  'slow-wheel': (f, say) => {
    const slow = `the rim runs at ${fixed(f.surface, 1)} m/s, slow for grinding`;
    return f.wouldDo <= f.most
      ? `${slow}; ${say.speed(f.wouldDo)} gives ${trimmed(f.least, 0)} m/s`
      : `${slow}; this wheel on this machine may run ${say.speed(f.most)} at most, a larger wheel or a faster machine would do`;
  },
  'long-spark-out': (f) => `${f.strokes} strokes without infeed mostly rub and heat; ${f.most} or fewer do`,
  'heavy-infeed': (f, say) =>
    `a rough infeed of ${say.length(f.infeed)} is heavy for a dry cup wheel; ${say.length(f.most)} or less is usual`,
  'spindle-over-nose': (f, say) =>
    `the holding nose stands ${say.length(f.by)} higher than the back of the wheel at the flat: see that spindle and arbor clear it, or take a wheel that much higher`,
  'span-only': () =>
    'the profile does not say where work zero lies (workZero), so only the span of travel is checked',
};

/** Every code the planner may find. */
export const PLAN_CODES = [...FAULT_CODES, ...Object.keys(wording)] as readonly PlanCode[];

/** The sentence of a finding, without its place. */
export function planSentence(finding: PlanFinding, job: Job): string {
  const say = sayIn(job.units);
  if (isFault(finding)) return faultSentence(finding, say);
  const sentence = wording[finding.code] as (finding: PlanFinding, say: Say) => string;
  return sentence(finding, say);
}

const OF_ONE_FLAT = /^flat (\d+) /;

/** Every finding with its sentence; what is said of several flats in the same words is said once. */
export function planSentences(
  findings: readonly PlanFinding[],
  job: Job,
): readonly { readonly finding: PlanFinding; readonly sentence: string }[] {
  const said = findings.map((finding) => {
    const sentence = planSentence(finding, job);
    return { finding, sentence, words: `${finding.code} ${sentence.replace(OF_ONE_FLAT, '')}` };
  });
  return alike(said, ({ words }) => words).map(([, same]) => {
    const [{ finding, sentence }] = same;
    const flats = same.flatMap((each) => OF_ONE_FLAT.exec(each.sentence)?.[1] ?? []);
    return flats.length < 2
      ? { finding, sentence }
      : { finding, sentence: sentence.replace(OF_ONE_FLAT, `each of flats ${flats.join(', ')} `) };
  });
}

/** `relief-below-tilt: ... (hex5.yaml:9, punch.relief)`, one for each thing said. */
export const planFindingLines = (
  findings: readonly PlanFinding[],
  job: Job,
  { file, locate }: JobSource,
): readonly { readonly severity: PlanFinding['severity']; readonly line: string }[] =>
  planSentences(findings, job).map(({ finding, sentence }) => ({
    severity: finding.severity,
    line: `${finding.code}: ${sentence} (${locate(finding.key).file ?? file}:${locate(finding.key).line}, ${finding.key})`,
  }));
