/**
 * Rules between the keys of a job: what one key cannot say alone. A row says when two contradict each other, at which
 * key it is told, and what would do.
 */
import { type Job, measuresPairs } from '../job/job.js';
import { kindOf, layouts, punchTurns } from '../job/layout.js';
import { trimmed } from '../quantity/decimal.js';
import { pairsOf } from '../section/flat.js';

/** No grinding wheel of this kind is marked faster, m/s; from memory: colour bands end at 125 m/s. */
const FASTEST_RIM = 125;

/** Nearer to the metal than this a punch a little long, or set a little off, is fed into; common practice, no source. */
const LEAST_APPROACH = 0.1;

/** No block is out by as much, mm; common practice, no source. */
const CROOKED = 0.5;

/** Rounding of a written size, mm. */
const AIM_SLACK = 1e-6;

/** Rules between keys: a row says when they contradict each other, at which key, and what would do. */
const together: readonly {
  readonly key: string;
  readonly wrong: (job: Job) => boolean;
  readonly message: (job: Job) => string;
}[] = [
  {
    key: 'holding.device',
    wrong: ({ holding }) => holding.index === 'by hand' && holding.device === undefined,
    message: () => 'is missing: say what the punch is indexed with, such as {kind: indexing block, sides: 6}',
  },
  {
    key: 'holding.device',
    wrong: ({ holding }) => holding.index === 'rotary axis' && holding.device !== undefined,
    message: () => 'is not used with a rotary axis; leave it out, or write index: by hand',
  },
  {
    key: 'holding.device.measured',
    wrong: ({ holding: { device } }) =>
      device?.kind === 'indexing block' &&
      device.measured !== undefined &&
      (device.sides % 2 !== 0 || device.measured.length !== device.sides),
    message: ({ holding: { device } }) =>
      device?.kind === 'indexing block' && device.sides % 2 !== 0
        ? 'needs a side opposite each, so that one is down when one is up; leave it out for this block'
        : `needs a reading for each of the ${device?.kind === 'indexing block' ? device.sides : 0} sides, in turn`,
  },
  {
    key: 'holding.device.measured',
    wrong: ({ holding: { device } }) =>
      device?.kind === 'indexing block' &&
      device.measured !== undefined &&
      Math.max(...device.measured) - Math.min(...device.measured) > CROOKED,
    message: () =>
      `differ by more than ${CROOKED} mm, which is no block to index with; were they read with the same pin, and in these units?`,
  },
  {
    key: 'holding.device.takeBack',
    wrong: ({ holding: { device } }) =>
      device?.kind === 'indexing block' && device.takeBack && device.measured === undefined,
    message: () => 'needs the block measured; write measured: [12.0, 12.003, ...], or leave it out',
  },
  {
    key: 'holding.device.takeBack',
    wrong: ({ holding: { device, slope } }) =>
      device?.kind === 'indexing block' && device.takeBack && slope.by === 'head',
    message: () => 'goes with a sloped fixture, where the block lies in the slope; leave it out',
  },
  {
    key: 'holding.index',
    wrong: ({ holding, machine }) => holding.index === 'rotary axis' && machine.rotary === undefined,
    message: ({ machineName }) =>
      `${machineName} has no rotary axis; write by hand, or name a machine that has one`,
  },
  {
    key: 'holding.slope.by',
    wrong: ({ holding, machine }) => !layouts[machine.layout].slopes.includes(holding.slope.by),
    message: ({ holding, machineName }) =>
      holding.slope.by === 'head'
        ? `the wheel of ${machineName} does not tilt; write fixture`
        : `${machineName} turns the punch in its spindle, where it lies level and the wheel is swivelled; write head`,
  },
  {
    key: 'grinding.limit.removalRate',
    wrong: ({ grinding, machine }) => machine.dials !== undefined && grinding.limit.removalRate !== undefined,
    message: ({ machineName }) =>
      `is held by infeeds no dial shows; for ${machineName} leave it out and write a roughInfeed`,
  },
  {
    key: 'grinding.wear',
    wrong: ({ grinding, machine }) => machine.dials !== undefined && grinding.wear === 'compensate',
    message: ({ machineName }) =>
      `no hand follows a wear that is only predicted; for ${machineName} write ignore, with order: rough first and measuringStop: after roughing`,
  },
  {
    key: 'holding.slope.by',
    wrong: ({ holding, machine }) =>
      machine.dials !== undefined && holding.slope.by === 'head' && !punchTurns(machine.layout),
    message: ({ machineName }) =>
      `would move two slides of ${machineName} at once, which no two hands can; write fixture`,
  },
  {
    key: 'holding.slope.using',
    wrong: ({ holding: { slope } }) => slope.using !== undefined && slope.by === 'head',
    message: () => 'is for a sloped fixture; a tilted head is set as the sheet says, so leave it out',
  },
  {
    key: 'holding.slope.sineBar',
    wrong: ({ holding: { slope }, machine }) =>
      kindOf(machine.layout) === 'bench grinder with a rail' && slope.sineBar !== undefined,
    message: () =>
      'lies loose, with its blocks, on what is pushed along before a running wheel; write using: block sides, a block whose own sides slope',
  },
  {
    key: 'holding.slope.using',
    wrong: ({ holding: { slope } }) => slope.using === 'sine bar' && slope.sineBar === undefined,
    message: () => 'needs the length of the bar; write sineBar: 100 mm, or another means',
  },
  {
    key: 'holding.slope.using',
    wrong: ({ holding: { slope, device } }) =>
      slope.using === 'block sides' && device?.kind !== 'indexing block',
    message: () => 'needs an indexing block; write device: {kind: indexing block, sides: 6}',
  },
  {
    key: 'grinding.measuringStop',
    wrong: ({ grinding }) => grinding.measuringStop === 'after roughing' && grinding.order === 'flat by flat',
    message: () => 'needs every flat roughed first; write order: rough first, or measuringStop: none',
  },
  {
    key: 'grinding.measuringStop',
    wrong: ({ grinding }) => measuresPairs(grinding) && grinding.order === 'one pass all round',
    message: () => 'roughs two flats before the others; write after roughing, or order: flat by flat',
  },
  {
    key: 'grinding.measuringStop',
    wrong: ({ grinding }) => grinding.measuringStop === 'after each pair' && grinding.order === 'rough first',
    message: () =>
      'after each pair goes only with order: flat by flat; write that, or measuringStop: after roughing',
  },
  {
    key: 'grinding.sequence',
    wrong: (job) =>
      measuresPairs(job.grinding) &&
      pairsOf(job.punch.section, job.grinding.sequence).some((pair) => pair.length < 2),
    message: ({ grinding }) =>
      `must bring every flat up beside the one that faces it, for measuringStop: ${grinding.measuringStop}; write opposite pairs`,
  },
  {
    key: 'grinding.order',
    wrong: ({ grinding, holding }) =>
      grinding.order === 'one pass all round' && holding.index !== 'rotary axis',
    message: () => 'turns the punch after every pass, which wants a rotary axis; write rough first',
  },
  {
    key: 'grinding.order',
    wrong: ({ grinding, machine }) =>
      grinding.order === 'one pass all round' && machine.rotary?.mayTurnWithSpindle === false,
    message: ({ machineName }) =>
      `would stop and start the wheel at every pass, since the axis of ${machineName} turns only with it at rest; write rough first`,
  },
  {
    key: 'grinding.order',
    wrong: ({ grinding }) => grinding.order === 'one pass all round' && grinding.wear === 'compensate',
    message: () => 'wears the rim evenly over the flats already; write wear: ignore, or order: rough first',
  },
  {
    key: 'grinding.rest',
    wrong: ({ grinding }) => grinding.order === 'one pass all round' && grinding.rest !== undefined,
    message: () =>
      'is not used with one pass all round: each flat rests while the others are ground; leave it out',
  },
  {
    key: 'grinding.finishSequence',
    wrong: ({ grinding }) => grinding.finishSequence === 'reversed' && grinding.order === 'flat by flat',
    message: () => 'needs a round that finishes; write order: rough first, or as roughed',
  },
  {
    key: 'grinding.dressingStop',
    wrong: ({ grinding }) => grinding.dressingStop === 'before finishing' && grinding.finishAllowance === 0,
    message: () =>
      'leaves nothing to finish with a finishAllowance of 0; write one, such as 0.03 mm, or none',
  },
  {
    key: 'grinding.dressingStop',
    wrong: ({ grinding }) =>
      grinding.dressingStop === 'before finishing' &&
      grinding.order === 'flat by flat' &&
      grinding.measuringStop === 'none',
    message: () => 'needs flats roughed before others are finished; write order: rough first, or {flats: 2}',
  },
  {
    key: 'grinding.dressingStop',
    wrong: ({ grinding }) =>
      grinding.order === 'one pass all round' && typeof grinding.dressingStop === 'object',
    message: () => 'counts whole flats; with one pass all round write before finishing',
  },
  {
    key: 'grinding.measuringStop',
    wrong: ({ grinding }) => grinding.measuringStop !== 'none' && grinding.finishAllowance === 0,
    message: () =>
      'leaves nothing to correct with a finishAllowance of 0; write one, such as 0.03 mm, or measuringStop: none',
  },
  {
    key: 'grinding.aim',
    wrong: ({ grinding, punch }) => typeof grinding.aim === 'number' && punch.sides === 'free',
    message: () => 'must be middle or size for a free section: its flats have no one size',
  },
  {
    key: 'grinding.aim',
    wrong: ({ grinding, punch }) => {
      if (typeof grinding.aim !== 'number' || punch.sides === 'free') return false;
      const over = grinding.aim - 2 * (punch.section[0]?.distance ?? 0);
      return over > punch.tolerance.plus + AIM_SLACK || over < -punch.tolerance.minus - AIM_SLACK;
    },
    message: ({ punch }) => {
      const size = 2 * (punch.section[0]?.distance ?? 0);
      const [least, most] = [size - punch.tolerance.minus, size + punch.tolerance.plus];
      return `lies outside the tolerance, ${trimmed(least, 4)} to ${trimmed(most, 4)} mm; write a size within it, or middle`;
    },
  },
  {
    key: 'wheel.shape',
    wrong: ({ wheel, machine }) => (wheel.shape === 'plain') !== (layouts[machine.layout].wheel === 'plain'),
    message: ({ wheel, machineName }) =>
      wheel.shape === 'plain'
        ? `a plain wheel grinds on its periphery, never on its side, and the spindle of ${machineName} does not lie across the punch; take a cup, or a profile of layout surface grinder, ...`
        : `the spindle of ${machineName} lies across the punch, where a cup has no face to grind with; write plain`,
  },
  {
    key: 'blank.flats',
    wrong: ({ wheel, standing }) => wheel.shape === 'plain' && standing.length > 0,
    message: () =>
      'is not planned for a plain wheel, whose curve would meet the shoulder behind them; grind from the whole blank, or take a cup',
  },
  {
    key: 'wheel.rim',
    wrong: ({ wheel }) => wheel.shape === 'plain' && wheel.rim > wheel.diameter,
    message: () => 'is more than the diameter; no plain wheel is so wide, write its width',
  },
  {
    key: 'wheel.land',
    wrong: ({ wheel }) => wheel.shape === 'plain' && wheel.land !== undefined,
    message: () => 'is dressed on the face of a cup; leave it out for a plain wheel',
  },
  {
    key: 'holding.lean',
    wrong: ({ wheel, holding }) => wheel.shape === 'plain' && holding.lean > 0,
    message: () => 'is for the face of a cup; leave it out for a plain wheel',
  },
  {
    key: 'wheel.land',
    wrong: ({ wheel }) => wheel.land !== undefined && wheel.land > wheel.rim,
    message: () => 'must not be more than the rim',
  },
  {
    key: 'grinding.approach',
    wrong: ({ grinding }) => grinding.approach < LEAST_APPROACH,
    message: () => `must be at least ${LEAST_APPROACH} mm: the wheel is fed down there, beside the metal`,
  },
  {
    key: 'grinding.coolant',
    wrong: ({ grinding, machine }) =>
      grinding.coolant !== 'none' && !machine.program.coolant.includes(grinding.coolant),
    message: ({ machineName, grinding }) =>
      `${machineName} cannot switch ${grinding.coolant} coolant; write none`,
  },
  {
    key: 'wheel.rim',
    wrong: ({ wheel }) => wheel.shape !== 'plain' && wheel.rim >= wheel.radius,
    message: () => 'must be less than half the diameter: a cup is hollow',
  },
  {
    key: 'wheel.ratedSpeed',
    wrong: ({ wheel }) => wheel.ratedSurface > FASTEST_RIM,
    message: ({ wheel }) =>
      `means ${Math.round(wheel.ratedSurface)} m/s at the rim, more than any cup wheel is made for; read the marking again`,
  },
  {
    key: 'grinding.finishInfeed',
    wrong: ({ grinding }) => grinding.finishInfeed > grinding.roughInfeed,
    message: () => 'is larger than roughInfeed; make the finish the finer one',
  },
];

/** Tells `about` of every pair of keys that contradict each other. */
export function checkTogether(job: Job, about: (key: string, message: string) => void): void {
  for (const { key, wrong, message } of together) if (wrong(job)) about(key, message(job));
}
