/**
 * A machine profile: what a machine and its control can do, never a brand. Held against the plain type in
 * job/machine; the JSON Schema in shared/schema comes from here. The usual times, backlash and index speed are
 * common practice, no source; a block of 70 characters is what the shortest common controls read (from memory).
 */
import * as z from 'zod';
import { UNIT_CODES } from '../job/dialect.js';
import { type LayoutName, layouts } from '../job/layout.js';
import type { Machine } from '../job/machine.js';
import type { LengthUnit } from '../quantity/unit.js';
import { ANY, angleBelow, MORE_THAN_ZERO, perUnit, quantitiesIn } from './quantity-schema.js';

/** Longest block of any program: what the shortest-sighted common control reads. */
const LONGEST_BLOCK = 70;
/** Room for a block number, a motion and three axis words; a feed takes a block of its own where it must. */
const SHORTEST_LONGEST_BLOCK = 48;

const code = (letter: string) =>
  z.string().regex(new RegExp(`^${letter}\\d{1,3}$`), { error: `write a code such as ${letter}10` });

/** The schema of a machine profile whose bare numbers are in `units`. */
export const machineSchema = perUnit(makeSchema);

function makeSchema(units: LengthUnit): z.ZodType<Machine> {
  const quantities = quantitiesIn(units);
  const { length, speed } = quantities;
  const place = (description: string) => length(ANY, description);
  const range = z
    .tuple([place('one end'), place('other end')])
    .refine(([from, to]) => from < to, { error: 'write [least, most], the smaller number first' });
  return z
    .strictObject({
      title: z.string().min(1).describe('what the machine can do, in a few words'),
      units: z.enum(['mm', 'inch']).describe('units of bare numbers here and of the programs written'),
      layout: z
        .enum(Object.keys(layouts) as [LayoutName, ...LayoutName[]])
        .describe('where the tip points and which axes carry the stroke and the infeed'),
      travel: z
        .strictObject({ x: range, y: range.optional(), z: range })
        .describe('limits in machine coordinates; leave y out where there is none'),
      workZero: z
        .strictObject({ x: place('x'), y: place('y').optional(), z: place('z') })
        .optional()
        .describe('where work zero lies in machine coordinates; without it only the span is checked'),
      rapid: speed('speed of a rapid move'),
      maxFeed: speed('highest feed'),
      spindle: spindleSchema(quantities),
      rotary: rotarySchema(quantities).optional(),
      program: programSchema(),
    })
    .refine((machine) => machine.spindle.min <= machine.spindle.max, {
      path: ['spindle'],
      error: 'min must not be more than max',
    });
}

type Quantities = ReturnType<typeof quantitiesIn>;

const spindleSchema = ({ rotation, power, time }: Quantities) =>
  z.strictObject({
    min: rotation('lowest speed'),
    max: rotation('highest speed'),
    power: power('power at the spindle; with it the plan says when grinding asks for more').optional(),
    turns: z
      .enum(['clockwise', 'counter-clockwise'])
      .prefault('clockwise')
      .describe('the way the wheel must turn'),
    spinUp: time('time to reach full speed', MORE_THAN_ZERO).prefault('5 s'),
    coastDown: time('time to come to rest, measured with this wheel on', MORE_THAN_ZERO).prefault('15 s'),
  });

const rotarySchema = ({ angle, rotation }: Quantities) =>
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
      mayTurnWithSpindle: z.boolean().prefault(true).describe('may index while the wheel runs'),
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
        .strictObject({ start: z.int().min(0), step: z.int().min(1) })
        .optional()
        .describe('number the blocks; left out: no N words'),
      percent: z.boolean().prefault(false).describe('open and close with %'),
      unitsCode: z.enum(Object.keys(UNIT_CODES) as [keyof typeof UNIT_CODES]).prefault('G20/G21'),
      dwellWord: z.enum(['P', 'X', 'F']).prefault('P').describe('address of the dwell time after G4'),
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
        .array(z.enum(['G17', 'G18', 'G40', 'G49', 'G80', 'G94', 'G97']))
        .prefault([])
        .describe('start-up codes this control does not know'),
    })
    .prefault({});
