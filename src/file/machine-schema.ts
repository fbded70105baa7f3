/**
 * A machine profile: what a machine and its control can do, never a brand. Held against the plain type in
 * job/machine; the JSON Schema in shared/schema comes from here. The usual times, backlash and index speed are
 * common practice, no source; a block of 70 characters is what the shortest common controls read (from memory).
 */
import * as z from 'zod';
import { UNIT_CODES } from '../job/dialect.js';
import { kindOf, type LayoutName, layouts, punchTurns } from '../job/layout.js';
import type { Machine, Spindle } from '../job/machine.js';
import type { LengthUnit } from '../quantity/unit.js';
import { ANY, angleBelow, MORE_THAN_ZERO, NOT_NEGATIVE, perUnit, quantitiesIn } from './quantity-schema.js';

/** Longest block of any program: what the shortest-sighted common control reads. */
const LONGEST_BLOCK = 70;
/** Room for a block number, a motion and three axis words; a feed takes a block of its own where it must. */
const SHORTEST_LONGEST_BLOCK = 48;

type Quantities = ReturnType<typeof quantitiesIn>;

const code = (letter: string) =>
  z.string().regex(new RegExp(`^${letter}\\d{1,3}$`), { error: `write a code such as ${letter}10` });

/** The schema of a machine profile whose bare numbers are in `units`. */
export const machineSchema = perUnit(makeSchema);

/** That of a machine without a control, which has dials in place of a program. */
export const handMachineSchema = perUnit(makeHandSchema);

const LAYOUT_NAMES = Object.keys(layouts) as [LayoutName, ...LayoutName[]];

/** What every machine has. */
function common(quantities: Quantities) {
  const { length } = quantities;
  const range = z
    .tuple([length(ANY, 'one end'), length(ANY, 'other end')])
    .refine(([from, to]) => from < to, { error: 'write [least, most], the smaller number first' });
  return {
    title: z.string().min(1).describe('what the machine can do, in a few words'),
    units: z.enum(['mm', 'inch']).describe('units of bare numbers here and of what the machine shows'),
    layout: z
      .enum(LAYOUT_NAMES)
      .describe('where the tip points and which axes carry the stroke and the infeed'),
    travel: z
      .strictObject({ x: range, y: range.optional(), z: range })
      .describe('limits in machine coordinates; leave y out where there is none'),
    guard: z
      .strictObject({
        beside: length(NOT_NEGATIVE, 'how far it stands out past the rim'),
        back: length(NOT_NEGATIVE, "how far its edge stands back from the rim's face"),
      })
      .optional()
      .describe('the guard that stays on the wheel, where work could meet it'),
  };
}

const spindleInOrder = ({ spindle }: Pick<Machine, 'spindle'>): boolean => spindle.min <= spindle.max;
const SPINDLE_OUT_OF_ORDER = { path: ['spindle'], error: 'min must not be more than max' };

function makeHandSchema(units: LengthUnit): z.ZodType<Machine> {
  const quantities = quantitiesIn(units);
  const { length, speed } = quantities;
  const dial = {
    graduation: length(MORE_THAN_ZERO, 'what a division of the dial moves, as the dial is marked'),
    turn: length(MORE_THAN_ZERO, 'what a whole turn moves, as the dial is marked'),
  };
  return z
    .strictObject({
      ...common(quantities),
      dials: z
        .strictObject({
          infeed: z.strictObject({
            ...dial,
            grows: z
              .enum(['toward the work', 'away from the work'])
              .prefault('toward the work')
              .describe('which way the wheel goes against the work when the numbers grow'),
          }),
          stroke: z.strictObject(dial).optional().describe('left out: a lever, or a block pushed along'),
          readout: length(MORE_THAN_ZERO, 'what a read-out on the infeed resolves').optional(),
          stops: z.boolean().prefault(true).describe('false: nothing can stop the stroke at a place'),
        })
        .describe('the hand wheels of a machine without a control'),
      play: length(NOT_NEGATIVE, 'lost motion of the infeed').prefault('0.05 mm'),
      strokeSpeed: speed('as fast as a hand strokes evenly').prefault('600 mm/min'),
      spindle: spindleSchema(quantities, 'by hand'),
    })
    .refine(({ dials }) => dials.infeed.graduation <= dials.infeed.turn, {
      path: ['dials', 'infeed'],
      error: 'a division must not be more than a turn',
    })
    .refine(spindleInOrder, SPINDLE_OUT_OF_ORDER)
    .transform(({ strokeSpeed, ...machine }): Machine => {
      const program = programSchema().parse({ coolant: ['flood', 'mist'], decimals: 6 });
      return { ...machine, rapid: strokeSpeed, maxFeed: strokeSpeed, program };
    });
}

function makeSchema(units: LengthUnit): z.ZodType<Machine> {
  const quantities = quantitiesIn(units);
  const { length, speed } = quantities;
  const place = (description: string) => length(ANY, description);
  return z
    .strictObject({
      ...common(quantities),
      workZero: z
        .strictObject({ x: place('x'), y: place('y').optional(), z: place('z') })
        .optional()
        .describe('where work zero lies in machine coordinates; without it only the span is checked'),
      play: length(
        NOT_NEGATIVE,
        'lost motion of the infeed axis; a tilted head lifts by it before a stroke out',
      ).prefault('0.02 mm'),
      rapid: speed('speed of a rapid move'),
      maxFeed: speed('highest feed'),
      spindle: spindleSchema(quantities, 'by program'),
      rotary: rotarySchema(quantities).optional(),
      program: programSchema(),
    })
    .refine(
      ({ travel, workZero }) =>
        workZero === undefined || (travel.y === undefined) === (workZero.y === undefined),
      { path: ['workZero'], error: 'y must stand in both travel and workZero, or in neither' },
    )
    .refine((machine) => machine.program.machineRetract === 'none' || machine.workZero !== undefined, {
      path: ['program', 'machineRetract'],
      error: 'G53 counts from machine zero; say where work zero lies (workZero), or write none',
    })
    .refine(
      ({ units: unit, program: { bareNumbers, dwellUnit } }) =>
        bareNumbers !== 'last digits' || (unit === 'mm' && dwellUnit === 'milliseconds'),
      {
        path: ['program', 'bareNumbers'],
        error:
          'last digits goes with units: mm and dwellUnit: milliseconds: no word of such a program has a point',
      },
    )
    .refine(
      (machine) => (machine.program.blockNumbers?.start ?? 0) < (machine.program.blockNumbers?.most ?? 1),
      {
        path: ['program', 'blockNumbers'],
        error: 'start must be less than most',
      },
    )
    .refine(({ layout }) => kindOf(layout) !== 'bench grinder with a rail', {
      path: ['layout'],
      error: 'has no control; write dials in place of program',
    })
    .refine(({ layout, spindle }) => !punchTurns(layout) || spindle.switched === 'by hand', {
      path: ['spindle', 'switched'],
      error: "must be by hand: the program's spindle words would turn the punch, not the wheel",
    })
    .refine(spindleInOrder, SPINDLE_OUT_OF_ORDER);
}

const spindleSchema = ({ rotation, power, time }: Quantities, switched: Spindle['switched']) =>
  z.strictObject({
    min: rotation('lowest speed'),
    max: rotation('highest speed'),
    power: power('power at the spindle; with it the plan says when grinding asks for more').optional(),
    turns: z
      .enum(['clockwise', 'counter-clockwise'])
      .prefault('clockwise')
      .describe('the way the wheel must turn'),
    switched: z
      .enum(['by program', 'by hand'])
      .prefault(switched)
      .describe('by hand: the spindle has its own switch, and the program stops for it'),
    spinUp: time('time to reach full speed', MORE_THAN_ZERO).prefault('5 s'),
    coastDown: time('time to come to rest, measured with this wheel on', MORE_THAN_ZERO).prefault('15 s'),
  });

/** M codes that mean the same on every control. */
const RESERVED_CODES: ReadonlySet<string> = new Set([
  'M0',
  'M1',
  'M2',
  'M3',
  'M4',
  'M5',
  'M6',
  'M7',
  'M8',
  'M9',
  'M30',
]);

const rotarySchema = ({ angle, rotation, time }: Quantities) =>
  z
    .strictObject({
      axis: z.enum(['A', 'B', 'C']).prefault('A'),
      sense: z
        .enum(['standard', 'reversed'])
        .prefault('standard')
        .describe('standard: positive moves the wheel counter-clockwise round the work, seen from the + end'),
      backlash: angle(angleBelow(5, '0'), 'lost motion of the axis').prefault('0.05 deg'),
      turnsPerMinute: rotation('speed of an index').prefault(10),
      clamp: code('M').optional().describe('code that clamps the axis'),
      unclamp: code('M').optional().describe('code that frees the axis'),
      clampTime: time('waited after the clamp').prefault('0.5 s'),
      counts: z
        .enum(['on and on', '0 to 360 shortest', '0 to 360, sign is direction'])
        .prefault('on and on')
        .describe('how the control reads the axis: a place past 360, or one within a turn'),
      mayTurnWithSpindle: z.boolean().prefault(true).describe('may index while the wheel runs'),
    })
    .refine(
      (rotary) => !RESERVED_CODES.has(rotary.clamp ?? '') && !RESERVED_CODES.has(rotary.unclamp ?? ''),
      {
        error: 'clamp and unclamp must be codes of their own, not M0 to M9 or M30',
      },
    )
    .refine((rotary) => rotary.clamp === undefined || rotary.clamp !== rotary.unclamp, {
      error: 'clamp and unclamp must differ',
    })
    .refine((rotary) => (rotary.clamp === undefined) === (rotary.unclamp === undefined), {
      error: 'write both clamp and unclamp, or neither',
    });

const programSchema = () =>
  z
    .strictObject({
      number: z
        .string()
        .regex(/^O\d{1,5}$/, { error: 'write O and up to five digits, or none' })
        .optional()
        .describe('program number the control wants on the first block'),
      blockNumbers: z
        .strictObject({
          start: z.int().min(0).max(9999),
          step: z.int().min(1).max(100),
          most: z.int().min(100).max(99999).prefault(9999).describe('after it the numbers begin anew'),
          on: z
            .enum(['every block', 'program stops'])
            .prefault('every block')
            .describe('which blocks are numbered'),
        })
        .optional()
        .describe('number the blocks; left out: no N words'),
      percent: z.boolean().prefault(false).describe('open and close with %'),
      unitsCode: z.enum(Object.keys(UNIT_CODES) as [keyof typeof UNIT_CODES]).prefault('G20/G21'),
      dwellWord: z.enum(['P', 'X', 'U', 'F']).prefault('P').describe('address of the dwell time after G4'),
      dwellUnit: z.enum(['seconds', 'milliseconds']).prefault('seconds'),
      decimals: z.int().min(2).max(6).prefault(3).describe('decimals of a length word'),
      workOffset: z.enum(['G54', 'G55', 'G56', 'G57', 'G58', 'G59']).prefault('G54'),
      coolant: z
        .array(z.enum(['flood', 'mist']))
        .prefault([])
        .describe('what the control can switch on'),
      stops: z
        .enum(['honoured', 'ignored'])
        .prefault('honoured')
        .describe('ignored: the control runs on through M0, so jobs by hand need one program a flat'),
      end: z.enum(['M2', 'M30']).prefault('M30'),
      comments: z.enum(['parentheses', 'semicolon']).prefault('parentheses'),
      longestBlock: z
        .int()
        .min(SHORTEST_LONGEST_BLOCK)
        .max(LONGEST_BLOCK)
        .prefault(LONGEST_BLOCK)
        .describe('characters in a block'),
      leaveOut: z
        .array(z.enum(['G17', 'G18', 'G40', 'G49', 'G80', 'G97']))
        .prefault([])
        .describe('start-up codes this control does not know'),
      absoluteCode: z
        .enum(['G90', 'none'])
        .prefault('G90')
        .describe('none: X and Z count from zero by themselves; on many turning controls G90 is a cycle'),
      feedCode: z
        .enum(['G94', 'G98', 'none'])
        .prefault('G94')
        .describe('feed per minute; on many turning controls G98, and G94 is a cycle'),
      diameterCode: z
        .enum(['G7', 'G8', 'none'])
        .prefault('none')
        .describe('says that X is a diameter (G7) or a radius (G8)'),
      exactStop: z
        .enum(['G61', 'none'])
        .prefault('none')
        .describe('makes every move end at its mark; none: set it on the control'),
      machineRetract: z
        .enum(['G53', 'none'])
        .prefault('none')
        .describe('sends the wheel to the top of its travel before anything else; needs workZero'),
      bareNumbers: z
        .enum(['refused', 'whole units', 'last digits'])
        .prefault('refused')
        .describe(
          'axis words without a point: some controls count them in last digits, and want every word so; then X27426 is 27.426',
        ),
      tool: z
        .int()
        .min(1)
        .max(9999)
        .optional()
        .describe('number of the wheel in the tool table, if zero is set with its length offset active'),
    })
    .prefault({});
