/** Every check finding as a sentence and a remedy. A missing one does not compile. */
import type { CheckCode, CheckFinding } from '../check/finding.js';
import type { Job } from '../job/job.js';
import { trimmed } from '../quantity/decimal.js';
import { type Say, sayIn } from '../quantity/say.js';
import type { LengthUnit } from '../quantity/unit.js';
import { faultSentence } from './fault.js';
import { settingWords } from './setting.js';

type Wording = { readonly [Code in CheckCode]: (finding: CheckFinding<Code>, say: Say) => string };

const wording: Wording = {
  'character-unreadable': (f) =>
    `column ${f.column} holds a character (code ${f.character.charCodeAt(0)}) that not every control reads; use plain 7-bit text`,
  'line-too-long': (f) =>
    `the line is longer than the ${f.most} characters the control reads; shorten or split it`,
  'comment-open': (f) => `a bracket at column ${f.column} has no partner; close the comment on its line`,
  'comment-nested': (f) => `a comment opens inside a comment at column ${f.column}; use one pair of brackets`,
  'expression-or-parameter': (f) =>
    `"${f.character}" at column ${f.column} begins an expression or a parameter, whose value only the control knows; write the number`,
  'decimal-comma': (f) => `a comma at column ${f.column}; write a decimal point`,
  'number-missing': (f) => `${f.letter} at column ${f.column} has no number; write one`,
  'number-malformed': (f) =>
    `a number at column ${f.column} cannot be read; write digits with at most one point`,
  checksum: (f) => `a checksum at column ${f.column} is not followed here; take it out`,
  'block-delete': () =>
    'the block begins with / and runs or not as a switch stands; say --block-delete on or off',
  'text-unreadable': (f) =>
    `"${f.text}" at column ${f.column} is not a word; take it out or make it a comment`,
  subprogram: (f) => `"${f.text}" begins or calls a subprogram, which is not followed; write its blocks out`,
  'words-lost': (f) =>
    `${f.expected} words stand here and ${f.read} were read; write one word after the other`,
  'code-unknown': (f) => `${f.word} is not known here; take it out`,
  'code-refused': (f) => `${f.word} is not vouched for: ${f.reason}; take it out or write the moves`,
  'code-not-on-control': (f) => `the profile's control does not know ${f.word}; ${f.wouldDo} would do`,
  'group-twice': (f) =>
    `${f.words.join(' and ')} exclude each other (${f.group}); put them in two blocks, or drop one`,
  'letter-twice': (f) => `${f.letter} stands twice in one block; keep one`,
  'word-unused': (f) => `nothing in this block uses ${f.word}; take it out`,
  'axis-without-motion': (f) => `${f.word} has no motion to belong to; write G0 or G1 with it`,
  'axis-unknown': (f) => `the machine has no axis for ${f.word}; take it out, or name it in the profile`,
  'motion-without-axis': (f) => `${f.word} says no place to go; add an axis word`,
  'number-negative': (f) =>
    `${f.word} must not be negative, nor broken where it counts; write a value that can be`,
  'feed-missing': () => 'a feed move without a feed; write an F word in this block or before it',
  'dwell-missing': (f) => `G4 does not say how long; add ${f.word} and a time`,
  'block-number-late': (f) => `${f.word} must stand first in its block; move it`,
  'comment-active': (f) =>
    `some controls act on the comment "${f.text.slice(0, 30)}"; take it out or begin it with another word`,
  'comment-style': (f) =>
    f.wanted === 'semicolon'
      ? "a comment in brackets, which the profile's control may run as words; put it after a semicolon"
      : "a comment after a semicolon, which the profile's control does not know; put it in brackets",
  'percent-misplaced': () =>
    'a % in mid-program, where controls stop or refuse; keep one on the first line and one on the last',
  'mode-unsaid': (f) =>
    `the program moves before it has said ${f.words.join(', ')}, so the last program decides; say them at the top`,
  'block-number-bad': (f) => `${f.word} is no block number; N and up to five digits`,
  'arc-bad': (f) => `the arc cannot be: ${f.reason}`,
  'units-unsaid': (f) => `a length before the program has said its units; write ${f.wouldDo} first`,
  'distance-unsaid': () => 'a move before the program has said how positions count; write G90 first',
  'units-switched': () => 'the units change in mid-program; keep one',
  'other-work-offset': (f) => `${f.word} is not the offset the profile sets zero in; ${f.wouldDo} is`,
  'outside-travel': (f, say) =>
    `${f.axis.toUpperCase()} would go to ${say.length(f.at)} in machine coordinates, its limits are ${say.length(f.least)} and ${say.length(f.most)}; move the work zero or shorten the move`,
  'span-over-travel': (f, say) =>
    `${f.axis.toUpperCase()} moves over ${say.length(f.need)} in all and has ${say.length(f.have)}; shorten the moves`,
  'feed-over-machine': (f, say) =>
    `a feed of ${say.feed(f.feed)} is more than the machine's ${say.feed(f.max)}; lower F`,
  'speed-over-rating': (f, say) =>
    `${say.speed(f.speed)} is more than the ${say.speed(f.rated)} the wheel is rated for, it may burst; lower S`,
  'speed-outside-spindle': (f, say) =>
    `${say.speed(f.speed)} is outside what the spindle runs, ${trimmed(f.min, 0)} to ${say.speed(f.max)}; change S`,
  'speed-missing': () => 'the wheel starts without a speed; write an S word before it',
  'wheel-turns-backward': (f) =>
    `${f.word} turns the wheel the wrong way for this machine; ${f.wouldDo} is right`,
  'wheel-not-turning': () =>
    'the wheel meets the punch without turning; start the spindle and wait before it',
  'speed-not-ordered': (f, say) =>
    `the wheel cuts at ${say.speed(f.speed)}, the job says ${say.speed(f.ordered)}; correct S`,
  'spin-up-short': (f, say) =>
    `the wheel meets the punch ${say.time(f.waited)} after its start and needs ${say.time(f.needed)}; lengthen the dwell after M3 or M4`,
  'stop-while-turning': () =>
    'the program stops with the wheel turning; write M5 and its coast-down dwell before the stop',
  'coast-down-short': (f, say) =>
    `the program stops ${say.time(f.waited)} after M5, and a hand may go in only after ${say.time(f.needed)}; lengthen the dwell`,
  'coolant-at-stop': () =>
    'coolant still runs at the stop, onto hands and a standing wheel; write M9 before M5',
  'hands-before-rest': (f, say) =>
    `the program ends before the wheel can stand: hands in only ${say.time(f.needed)} after M5, when you see it stand`,
  'measuring-stop-missing': () =>
    'the job orders a measuring stop and the program has none; add M0 after roughing, or change the job',
  'stop-near-work': () => 'the program stops with the wheel over the punch; go to the clear position first',
  'stop-too-low': (f, say) =>
    `hands go in with the rim only ${say.length(f.height)} up, the job retracts to ${say.length(f.needed)}; retract before the stop`,
  'stop-ignored': () =>
    'the profile says this control ignores program stops; write one program a flat (post --split)',
  'coolant-missing': (f) => `the job wants ${f.wanted} coolant and it is off; switch it on before the stroke`,
  'coolant-unwanted': () => 'coolant is on and the job says none',
  'start-unknown': (f) =>
    `a move while it is not known where the wheel stands, so it may go through anything; say G0 ${f.up.toUpperCase()} by itself first, up over everything, then the other axes`,
  'height-unsaid': (f) =>
    `it is not known how high the wheel stands here, only that it should be clear; G0 ${f.up.toUpperCase()} by itself first, up over everything, makes it certain`,
  'end-missing': () => 'the program does not end with M2 or M30; is it cut off?',
  'end-while-turning': () => 'the program ends with the wheel turning; write M5 before its end',
  'end-near-work': () =>
    'the program ends with the wheel over the punch; retract to the clear position first',
  'text-after-end': () => 'text after the end is never run',
  'index-near-work': () => 'the punch turns under the wheel; go to the clear position first',
  'index-while-turning': (f, say) =>
    `the rotary axis may turn only when the wheel has stood still; M5 and ${say.time(f.needed)} of dwell before it`,
  'index-while-moving': () => 'the punch turns while the wheel travels; index in a block of its own',
  'index-clamped': (f) => `the rotary axis turns while clamped; ${f.wouldDo} first`,
  'stroke-unclamped': (f) => `a stroke while the rotary axis is not clamped; ${f.wouldDo} after the index`,
  'index-both-ways': () =>
    'the rotary axis arrives from both sides, so its backlash shows in the flats; arrive from one',
  'index-without-stop': () =>
    'a stroke after an INDEX comment without a program stop between; write M0 after the comment',
  'index-unknown': () =>
    'a stroke before any index; say which flat is up (rotary word, or INDEX comment and M0)',
  'index-mismatch': (f, say) =>
    f.ordered === 'none'
      ? `the job has ${f.flats} flats and no flat ${f.flat}; correct the INDEX comment`
      : `the job has ${f.flats} flats, flat ${f.flat} at ${say.angle(f.ordered)}; the INDEX comment says otherwise (${say.angle(f.said)}), correct it`,
  'rapid-in-stock': (f, say) =>
    `a rapid runs ${f.depth > 0 ? `${say.length(f.depth)} deep in the punch` : 'along the ground flat'}; retract first, or make it a feed move`,
  'infeed-in-stock': (f, say) =>
    `the wheel is fed ${say.length(f.depth)} into the punch instead of beside it; feed down past the metal`,
  'stroke-too-deep': (f, say) =>
    `the stroke cuts ${say.length(f.depth)} deep, the job allows ${say.length(f.allowed)}; infeed in smaller steps`,
  'stroke-too-fast': (f, say) =>
    `the stroke runs at ${say.feed(f.feed)}, the job says ${say.feed(f.allowed)}; lower F`,
  'stroke-over-limit': (f, say) =>
    `the stroke removes ${say.removal(f.rate)}, the job holds ${say.removal(f.limit)}; a smaller infeed or a slower stroke`,
  'stroke-off-centre': (f, say) =>
    `the stroke runs ${say.length(f.v)} beside the tool axis; only strokes through the axis are vouched for`,
  'wheel-near-nose': (f, say) =>
    `the wheel comes nearer to the holding nose than the ${say.length(f.clearance)} the job keeps, or runs into it; end the move earlier or hold the punch farther out`,
  'below-the-flats': (f, say) =>
    `the rim goes ${say.length(f.by)} below the lowest flat of the job, toward fixture or table; check the sign and the point of this height`,
  'wheel-meets-fixture': (f, say) =>
    `the wheel runs ${f.by > 0 ? `${say.length(f.by)} into` : 'against'} the ${f.what}; keep the move clear of it`,
  'index-again': (f, say) =>
    `the punch is indexed to ${say.angle(f.at)} and nothing is ground before the next index`,
  'index-out-of-order': (f) => `flat ${f.flat} comes after flat ${f.after}, the job grinds them in order`,
  'flat-missing': (f, say) =>
    `flat ${f.flat} at ${say.angle(f.at)} is never ground; if the programs are a set, give them all`,
  'flat-not-ordered': (f, say) => `a flat is ground at ${say.angle(f.at)} that the job does not have`,
  'flat-off': (f, say) =>
    `flat ${f.flat} would lie ${say.length(f.by)} from where it is ordered, ${say.length(f.most)} is tolerable`,
  'flat-long': (f, say) =>
    `flat ${f.flat} would be ${say.length(f.length)} long at full width, ${say.length(f.ordered)} is ordered; end the strokes earlier`,
  'size-over': (f, say) =>
    `across flat ${f.flat} the punch would measure ${say.length(f.size)}, at most ${say.length(f.most)} is ordered`,
  'size-under': (f, say) =>
    `across flat ${f.flat} the punch would measure ${say.length(f.size)}, at least ${say.length(f.least)} is ordered`,
  'wheel-not-at-rest': (f) =>
    `the head says that the wheel stands still and only shows places, and ${f.word} starts it; take it out`,
  'dressing-stop-missing': () =>
    'the job orders the wheel dressed before flats are finished, and no stop says so; write a comment DRESSING STOP before its M0',
  'face-off': (f, say) =>
    `${say.length(f.face)} would come off the face, ${say.length(f.ordered)} is wanted; correct the last infeed`,
  'rim-off': (f, say) =>
    `${say.length(f.off)} by this, the head says that ${say.length(f.ordered)} come off the rim, and the offset is set by that; post it anew`,
  'diamond-unknown': () =>
    'the job does not say where the diamond stands; write holding.diamond: { x: 60, y: 0, z: -5 }',
  'cuts-in-the-air': (f, say) =>
    `nothing should be cut in the air, and the wheel goes ${f.depth === 0 ? 'onto the metal' : `${say.length(f.depth)} deep`}; raise it by ${say.length(f.wouldDo)} in all`,
  'section-off-axis': (f, say) =>
    `the section would sit ${say.length(f.by)} off the tool axis, ${say.length(f.most)} is tolerable`,
  'flat-short': (f, say) =>
    `flat ${f.flat} would be ${say.length(f.length)} long at full width, ${say.length(f.ordered)} is ordered`,
  'corner-land': (f, say) =>
    `the corners would stick out of the blank by ${say.length(f.by)} and stay round without relief`,
  'spark-out-short': (f) =>
    `flat ${f.flat} gets ${f.strokes} strokes without infeed at its end, the job says ${f.ordered}`,
  'return-alone': (f) =>
    `a carriage return at column ${f.column} without a line feed: some controls end the line there, others read on; save the program with plain line ends`,
  'point-missing': (f) =>
    `${f.word} has no decimal point: some controls read it in thousandths; write ${f.word}. or say program.bareNumbers: whole units in the profile`,
  'comment-odd': (f) =>
    `the comment holds a character (code ${f.character.charCodeAt(0)}) that not every control shows; plain letters are safer`,
  'comment-long': (f) => `the comment has ${f.length} characters, the control shows ${f.most}`,
  'dwell-with-axis': (f) =>
    `${f.word} beside G4: some controls dwell and move, others only dwell; put it in a block of its own`,
  'arc-plane-unsaid': () => 'an arc before the program has said its plane; write G17, G18 or G19 first',
  'path-mode-unsaid': () =>
    'the program does not say how moves end, and a control may cut corners short; write G61 at the top',
  'speed-slow': (f, say) =>
    `the wheel cuts at ${say.speed(f.speed)}, the job says ${say.speed(f.ordered)}: it acts softer and wears faster`,
  'wheel-near-metal': (f, say) =>
    `the wheel ${f.does} with the rim on the metal or within ${say.length(f.needed)} of it, which breaks wheels; retract first`,
  'spindle-turns-punch': (f) =>
    `${f.word} would turn the PUNCH: it is chucked in that spindle, and the wheel has a switch of its own; take it out`,
  'guard-meets-work': (f, say) =>
    `the guard, which stays on, would go ${say.length(f.by)} into blank or nose; a longer stick-out, a thinner blank or another machine`,
  'wheel-switched-by-hand': (f) =>
    `the profile says the spindle is switched by hand, ${f.word} does nothing there; stop the program for the switch instead`,
  'dwell-in-contact': (f, say) =>
    `the wheel stands on the metal for ${say.time(f.time)} and burns it; dwell clear of the punch`,
  'feed-crawls': (f, say) =>
    `a stroke at ${say.feed(f.feed)} rubs and burns; ${say.feed(f.least)} or more, the job says how fast`,
  'tool-change-late': () => 'a tool change with the work begun; only at the start, with the spindle at rest',
  'axis-turns-nothing': (f) =>
    `this job is indexed by hand, so ${f.axis} turns nothing here; write the INDEX comment and M0, or index: rotary axis in the job`,
  'index-comment-malformed': (f) =>
    `"${f.text.slice(0, 60)}" is not an INDEX comment a hand can follow for certain; write INDEX TO 60 DEG - FLAT 2 OF 6 and nothing more`,
  'index-comment-twice': () => 'a second INDEX comment before the stop of the first; keep one',
  'set-wrong': (f) =>
    `"${f.said.slice(0, 60)}" would bring up another flat; the device needs ${settingWords(f.needed, f.layout)}`,
  'axis-outside-turn': (f, say) =>
    `${say.angle(f.at)} on an axis that counts from 0 to 360, where a sign or a full turn means something else; write the place within the turn`,
  'index-off': (f, say) => `flat ${f.flat} is ground ${say.fineAngle(f.by)} beside where it is ordered`,
  'section-turned': (f, say) =>
    `the whole section stands turned by ${say.angle(f.by)} against the job; on a round blank that is the same punch`,
  'rapid-near-stock': (f, say) =>
    `a rapid passes ${say.length(f.gap)} over the raw blank, which may run out by ${say.length(f.needed)}; pass higher`,
  'plunge-near-stock': (f, say) =>
    `the wheel comes down nearer to the metal than the ${say.length(f.needed)} the job keeps (grinding.approach); come down farther out`,
  'stroke-stays-inside': (f, say) =>
    `the stroke stays inside the punch: the cup is hollow behind its rim, and ${say.length(f.by)} toward the tip is left standing; run out past the tip`,
  'roughed-long': (f, say) =>
    `flat ${f.flat} is roughed ${say.length(f.length)} long, ${say.length(f.ordered)} is ordered: the neck of the punch is weaker; end the strokes earlier`,
  'job-unsafe': (f, say) => `the job itself: ${faultSentence(f.fault, say)}`,
  'standing-unsaid': (f) =>
    `the program goes on where flats stand already (${f.said.toLowerCase()}); say how the punch stands with --standing FILE`,
  'standing-believed': (f) =>
    `the flats before are taken to stand because the program says so (${f.said.toLowerCase()}); measure them before you start, or check with --standing FILE`,
  'other-job': (f) =>
    `the program is headed "${f.said.slice(0, 60)}", which is not this job; is it the right one?`,
  'text-changed': (f) =>
    `the program has been changed since it was marked ${f.mark}; if that was not you, post it anew`,
  'set-out-of-order': (f) =>
    f.said === 'none'
      ? `this program is part of no set, the one before it is; check the programs of one set, number ${f.wanted} next`
      : `this is program ${f.said.number} of ${f.said.of}, number ${f.wanted} of the set comes here; give them all, in order`,
  'set-incomplete': (f) => `the set ends with program ${f.number} of ${f.of}; give them all, in order`,
  'more-findings': (f) => `${f.left} more findings of the same kinds are not listed`,
};

/** Every code the check may find. */
export const CHECK_CODES = Object.keys(wording) as readonly CheckCode[];

/** The sentence of a finding, in the units of whoever reads it. */
export const checkSentence = <Code extends CheckCode>(
  finding: CheckFinding<Code>,
  units: LengthUnit,
): string => (wording[finding.code] as Wording[Code])(finding, sayIn(units));

/** `hex5.nc:68 stroke-too-deep: ...`, and the block below it. */
export function checkFindingLines(finding: CheckFinding, job: Pick<Job, 'units'>): readonly string[] {
  const { program, line, text } = finding.place;
  const place = line > 0 ? `${program}:${line} ` : '';
  const sentence = `${place}${finding.code}: ${checkSentence(finding, job.units)}`;
  return text.trim() === '' ? [sentence] : [sentence, `    ${printable(text)}`];
}

/** A block as it may be shown: no control characters, not endless. */
const printable = (text: string): string => text.replace(/[^\t\x20-\x7e]/g, '?').slice(0, 120);
