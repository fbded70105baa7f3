/**
 * The job file: what is wanted, from what, with which wheel and how it is held. Held against the plain types in
 * job/job; the JSON Schema in shared/schema comes from here. Keys are described where they stand. The usual
 * values of infeeds, allowance, spark-out, clearances and head tilt are common practice, no source.
 */
import * as z from 'zod';
import {
  type Drawer,
  type Grinding,
  type Holding,
  type JobBlank,
  type JobSpreads,
  type PunchForm,
  SLOPE_MEANS,
  type Tolerance,
  type WheelForm,
} from '../job/job.js';
import { USUAL_SHARE } from '../job/socket.js';
import type { LengthUnit, Mm, Rad, RevPerMin } from '../quantity/unit.js';
import { readMarking } from '../wheel/marking.js';
import {
  ANY,
  angleBelow,
  lengthUnits,
  MORE_THAN_ZERO,
  NOT_NEGATIVE,
  perUnit,
  quantitiesIn,
} from './quantity-schema.js';
import { NAMED_SECTIONS } from './section-name.js';

/** The schema of a job whose bare lengths are in `units`. */
export const jobSchema = perUnit((units: LengthUnit): z.ZodType<JobFile> => {
  const quantities = quantitiesOf(units);
  return z.strictObject({
    title: z.string().min(1).max(200),
    units: lengthUnits().describe('units of bare lengths; bare angles are degrees'),
    punch: punchSchema(quantities),
    blank: blankSchema(quantities),
    wheel: wheelSchema(quantities),
    grinding: grindingSchema(quantities),
    holding: holdingSchema(quantities),
    spreads: spreadsSchema(quantities),
    machine: z.string().min(1).describe('name of a shipped profile, or a path to one of your own'),
  });
});

const quantitiesOf = (units: LengthUnit) => {
  const quantities = quantitiesIn(units);
  return {
    ...quantities,
    positive: (text: string) => quantities.length(MORE_THAN_ZERO, text),
    notNegative: (text: string) => quantities.length(NOT_NEGATIVE, text),
  };
};

type Quantities = ReturnType<typeof quantitiesOf>;

const flatSchema = ({ angle, positive }: Quantities) =>
  z.strictObject({
    at: angle(ANY, 'direction of the flat, counter-clockwise seen from the tip'),
    distance: positive('from the tool axis to the flat, at the front face'),
  });

const punchSchema = (quantities: Quantities) => {
  const { angle, positive, notNegative } = quantities;
  const flat = flatSchema(quantities);
  return z.strictObject({
    section: z
      .union([
        z.enum(Object.keys(NAMED_SECTIONS) as [keyof typeof NAMED_SECTIONS]),
        z.strictObject({ sides: z.int().min(3).max(12).describe('number of equal flats') }),
        z.strictObject({
          flats: z.array(flat).min(1).max(24).describe('each flat of a free convex section'),
        }),
      ])
      .optional()
      .describe('triangle, square, hex, octagon, {sides: n}, or {flats: [{at, distance}, ...]}'),
    socket: z
      .string()
      .optional()
      .describe('in place of section and size: hex 5, hex 1/4 in, square 3/8 in; flatwright size --list'),
    socketShare: z
      .number()
      .min(0)
      .max(1)
      .optional()
      .describe(`with socket: how far up its limits a new punch is ground, 0 to 1; usually ${USUAL_SHARE}`),
    acrossFlats: positive('size of a section with an even number of flats, at the front face').optional(),
    inscribedDiameter: positive(
      'size of a section with an odd number of flats: twice flat to axis',
    ).optional(),
    flatLength: positive('full-width length of the flats along the tool axis'),
    relief: angle(angleBelow(20, 'more than 0'), 'slope of the flats against the tool axis'),
    headTilt: angle(angleBelow(10, '0'), 'tilt of the broaching head').prefault('1 deg'),
    overallLength: positive(
      'from its rear end, which seats in the head, to its front face: how deep the head is from its seat to where its axes cross',
    ).optional(),
    shank: positive('diameter the head takes').optional(),
    corners: z
      .enum(['sharp', 'as the blank leaves them'])
      .prefault('sharp')
      .describe('as the blank leaves them: round lands are wanted, as on a double-D'),
    tolerance: z
      .strictObject({
        plus: notNegative('allowed over the size').prefault(0),
        minus: notNegative('allowed under the size').prefault('0.02 mm'),
      })
      .optional()
      .describe(
        'on across flats, or on twice the distance of a flat that has no opposite; with socket: usually its own limits',
      ),
  });
};

const blankSchema = ({ angle, positive, notNegative, length }: Quantities) =>
  z.strictObject({
    shape: z.enum(['round', 'square', 'hex']).prefault('round'),
    size: positive('diameter of a round blank, across flats of the others'),
    measured: positive('its size as measured, if you did: diameter, or across flats').optional(),
    turned: angle(ANY, "direction of a flat of the blank, counted as the punch's flats are").prefault(0),
    stickOut: positive('from the front face to the holding nose'),
    flats: z
      .union([
        z.strictObject({
          over: notNegative('every flat stands this much farther from the axis than ordered'),
          length: positive('how long they are; usually 0.5 mm more than ordered').optional(),
        }),
        z.strictObject({
          of: z.string().min(1).describe('job file of the old punch that is ground over'),
          faceOff: notNegative('ground off its front face since').prefault(0),
          turned: angle(ANY, 'how far its flats are turned against those ordered').prefault(0),
        }),
        z
          .array(
            z.union(
              [
                z.strictObject({
                  flat: z.int().min(1).max(24),
                  over: length(ANY, 'how much farther from the axis than ordered it stands'),
                  length: positive('how long it is').optional(),
                }),
                z.strictObject({
                  at: angle(ANY, 'where it faces, as the flats of a section count'),
                  distance: positive('from the axis, at the front face'),
                  length: positive('how long it is on its centre line'),
                  slope: angle(
                    angleBelow(20, '0'),
                    'its slope, where it is not the relief ordered',
                  ).optional(),
                }),
              ],
              { error: 'write {flat: 3, over: 0.02}, or {at: 0, distance: 3, length: 12}' },
            ),
          )
          .min(1)
          .max(24),
      ])
      .optional()
      .describe(
        'flats that are there already: {over: 0.25}, [{flat: 3, over: 0.02}], [{at: 0, distance: 3, length: 12}], or an old punch {of: old.yaml, faceOff: 0.75}',
      ),
    material: z.string().min(1).prefault('high-speed steel'),
  });

/** Wheels that have no face to grind flats with. */
const NO_CUP = /^(?:straight|flat|disc|disk|surface)(?: wheel)?$|^plain wheel$|^type ?1$/i;

const wheelSchema = ({ rotation, positive }: Quantities) =>
  z.strictObject({
    shape: z
      .enum(['straight cup', 'flaring cup', 'plain'], {
        error: ({ input }) =>
          NO_CUP.test(String(input))
            ? `"${String(input)}" grinds with its periphery: write plain, on a machine whose spindle lies across the punch (layout surface grinder, ...); the side of a straight wheel breaks`
            : undefined,
      })
      .prefault('straight cup'),
    diameter: positive('outer diameter of the rim'),
    rim: positive('width of the rim, or of a plain wheel'),
    height: positive(
      'height of a cup; of a plain wheel what stands free of its flanges, usually a third of its diameter',
    ).optional(),
    ratedSpeed: z
      .union([rotation('highest speed marked on the wheel, rev/min'), surfaceOrRotation()])
      .describe('the speed marked on the wheel: rev/min, or a surface speed such as 32 m/s'),
    abrasive: z.string().min(1).optional().describe('what the marking says; without one, aluminium oxide'),
    marking: z
      .string()
      .min(1)
      .refine((text) => readMarking(text) !== 'unread', {
        error:
          'not a marking in its usual order: abrasive, grit, grade, structure, bond, such as A 60 J 8 V; copy it from the wheel or its blotter, without the speed and the sizes',
      })
      .optional()
      .describe('printed on the wheel: abrasive, grit, grade, structure, bond, such as A 60 J 8 V'),
    land: positive(
      'width of the rim left by dressing; 1.5 to 3 mm is usual, the whole rim if left out',
    ).optional(),
    grindingRatio: z
      .number()
      .positive()
      .optional()
      .describe('volume of metal ground for a volume of wheel lost, if you measured it'),
  });

const grindingSchema = ({
  positive,
  notNegative,
  speed,
  rotation,
  removalRate,
  specificRemovalRate,
  volume,
  power,
  time,
  angle,
}: Quantities) =>
  z.strictObject({
    roughInfeed: positive('infeed of a rough pass; usually 0.02 mm, less on carbide').optional(),
    finishInfeed: positive('infeed of a finish pass; usually 0.005 mm, less on carbide').optional(),
    finishAllowance: notNegative('left by roughing for the finish passes').prefault('0.03 mm'),
    sparkOut: z.int().min(0).max(100).prefault(3).describe('strokes with no infeed'),
    strokeSpeed: speed('speed of a stroke; usually 1200 mm/min, or what the machine feeds').optional(),
    returnSpeed: speed(
      'speed of a stroke out, which takes no metal; usually twice the stroke speed',
    ).optional(),
    spindleSpeed: rotation('speed of the wheel'),
    order: z
      .enum(['flat by flat', 'rough first', 'one pass all round'])
      .prefault('flat by flat')
      .describe(
        'rough first: rough every flat, then finish every flat; one pass all round: the same with one pass a turn, so that each flat cools meanwhile, for a rotary axis',
      ),
    sequence: z
      .union([z.enum(['in turn', 'opposite pairs']), z.array(z.int().min(1).max(24)).min(1).max(24)])
      .optional()
      .describe(
        'which flat comes after which: in turn, opposite pairs (a pair can be measured first), or [1, 4, 2, 5, 3, 6]; usually in turn, and pairs where pairs are measured',
      ),
    finishSequence: z
      .enum(['as roughed', 'reversed'])
      .prefault('as roughed')
      .describe('reversed: the round that finishes begins with the flat that is up'),
    measuringStop: z
      .enum(['none', 'after roughing', 'after the first pair', 'after each pair'])
      .prefault('none')
      .describe(
        'measure roughed flats and set the rim by them: all, the first two that face each other, or each two',
      ),
    dressingStop: z
      .union([
        z.enum(['none', 'before finishing']),
        z.strictObject({ flats: z.int().min(1).max(1000).describe('dress after so many flats') }),
        z.strictObject({ volume: volume('dress after so much metal') }),
      ])
      .prefault('none')
      .describe(
        'stop to dress the wheel and set the rim anew: before finishing, {flats: 2}, or {volume: 300 mm3}',
      ),
    coolant: z.enum(['none', 'flood', 'mist']).prefault('none'),
    clearance: positive('kept from metal where nothing should touch').prefault('3 mm'),
    approach: positive('a stroke starts, and the wheel is fed down, this far past the metal').prefault(
      '0.5 mm',
    ),
    startAbove: notNegative('first stroke this far above the stock, for run-out of the blank').prefault(
      '0.05 mm',
    ),
    retract: positive('height over the stock at which the punch is indexed').prefault('25 mm'),
    mostStrokes: z.int().min(1).max(20000).prefault(2000).describe('most strokes allowed for one flat'),
    wear: z
      .enum(['ignore', 'compensate'])
      .prefault('ignore')
      .describe('compensate: lower every pass by what the rim has lost so far, as predicted'),
    aim: z
      .union([z.enum(['middle', 'size']), positive('a size to aim at, within the tolerance')])
      .prefault('middle')
      .describe(
        'where passes end: middle of the tolerance, the size ordered, or a size; a socket gives its own',
      ),
    rest: z
      .strictObject({
        every: z.int().min(1).max(1000).describe('strokes between two rests'),
        for: time('how long the wheel stays clear', MORE_THAN_ZERO),
      })
      .optional()
      .describe('pauses clear of the punch, for the heat: {every: 20, for: 30 s}'),
    shoulder: angle(
      angleBelow(45, '0'),
      'lean of the shoulder, so that the outside of the wheel does not rub it',
    ).prefault('5 deg'),
    limit: z
      .strictObject({
        removalRate: removalRate(
          'most metal a stroke may take; infeeds shrink as the flat widens',
        ).optional(),
        specificRemovalRate: specificRemovalRate(
          'warn of burning above; usually 1 mm2/s dry, 5 mm2/s wet',
        ).optional(),
        power: power('warn above this grinding power').optional(),
        bending: z
          .number()
          .positive()
          .optional()
          .describe('warn if the blank bends by more than this share of the tolerance; usually 0.25'),
      })
      .prefault({}),
  });

const spreadsSchema = ({ angle, notNegative }: Quantities) =>
  z
    .strictObject({
      touchOff: notNegative('height of the first spark on the blank').prefault('0.005 mm'),
      touchFlat: notNegative('a touch on a ground flat by feeler, the wheel at rest').prefault('0.003 mm'),
      touchEdge: notNegative('place of the edge along the stroke').prefault('0.1 mm'),
      slopeHeight: notNegative('height under the sine bar').prefault('0.005 mm'),
      slopeAngle: angle(angleBelow(5, '0'), 'slope set without a sine bar').prefault('0.05 deg'),
      slopeCreep: notNegative('slip of the fixture along its slope').prefault('0.005 mm'),
      eccentricity: notNegative('bore of a block, or chuck, off the axis it turns on').prefault('0.01 mm'),
      blockSize: notNegative('each side of an indexing block').prefault('0.005 mm'),
      indexAngle: angle(angleBelow(5, '0'), 'each index of the device or axis').prefault('0.05 deg'),
      wear: z.number().min(0).prefault(0.5).describe('share of the predicted wheel wear that may be wrong'),
      temperature: z
        .union([z.literal('estimated'), z.number().min(0).max(500)])
        .prefault('estimated')
        .describe('kelvin the punch is warmer when finished than when measured; estimated: 40 dry, 5 wet'),
      reading: notNegative('micrometer').prefault('0.003 mm'),
    })
    .prefault({})
    .describe('what may be off, plus or minus, for flatwright plan --errors; 19 of 20 lie within');

const sideSchema = ({ length }: Quantities) =>
  z
    .tuple([length(ANY, 'one end'), length(ANY, 'other end')])
    .refine(([from, to]) => from < to, { error: 'write [least, most], the smaller number first' });

const holdingSchema = (quantities: Quantities) => {
  const { angle, length, positive, time } = quantities;
  const side = sideSchema(quantities);
  return z.strictObject({
    index: z.enum(['rotary axis', 'by hand']),
    device: z
      .discriminatedUnion(
        'kind',
        [
          z.strictObject({
            kind: z.literal('indexing block'),
            sides: z.int().min(3).max(24),
            across: positive('across two opposite sides, at its front end where they slope').optional(),
            length: positive('length of the block along the punch').optional(),
            measured: z
              .array(length(ANY, 'top of the pin'))
              .optional()
              .describe('a pin in the bore, read with each side down in turn, from side 1'),
            takeBack: z
              .boolean()
              .prefault(false)
              .describe('true: the program goes higher and lower for what was measured'),
          }),
          z.strictObject({
            kind: z.literal('spin indexer'),
            step: angle(MORE_THAN_ZERO, 'step').prefault('1 deg'),
          }),
          z.strictObject({
            kind: z.literal('gear'),
            teeth: z.int().min(3).max(400).describe('teeth, or holes, of what the detent holds'),
          }),
          z.strictObject({
            kind: z.literal('dividing head'),
            ratio: z.int().min(1).max(400).prefault(40),
            circles: z.array(z.int().min(2)).min(1).describe('holes of each circle on the plates at hand'),
          }),
        ],
        { error: 'must be indexing block, spin indexer, gear or dividing head' },
      )
      .optional()
      .describe(
        'by hand: {kind: indexing block, sides: 6}, {kind: spin indexer, step: 1 deg}, {kind: gear, teeth: 60}, or {kind: dividing head, ratio: 40, circles: [15, 16, ...]}',
      ),
    slope: z
      .strictObject({
        by: z.enum(['fixture', 'head']).prefault('fixture').describe('what is tilted'),
        sineBar: positive('length of the sine bar').optional(),
        gaugeBlocks: z
          .string()
          .optional()
          .describe(
            'set under the sine bar: metric 112, 88, 87, 56, 47, 45 or inch 81; usually metric 88, or inch 81 in inch jobs',
          ),
        using: z
          .enum(SLOPE_MEANS)
          .optional()
          .describe(
            'what it is set with; usually a sine bar where its length is given, else the best of what is in the drawer; block sides: those of the indexing block slope themselves',
          ),
        plate: positive('length of the plate or block that is sloped').prefault('100 mm'),
        drawer: z
          .strictObject({
            strips: z
              .array(positive('thickness'))
              .max(60)
              .optional()
              .describe('usually 0.5, 1, 1.5, 2 and 3 mm, or 1/64 to 1/8 in'),
            pins: z
              .array(positive('diameter'))
              .max(60)
              .optional()
              .describe('usually 2, 3, 4, 5, 6 and 8 mm, or 1/16 to 5/16 in'),
            angleBlocks: z
              .array(angle(angleBelow(90, 'more than 0'), 'angle'))
              .max(16)
              .prefault([]),
          })
          .prefault({})
          .describe('strips, pins and angle blocks at hand: {pins: [3, 5], angleBlocks: [0.5, 1, 2, 3]}'),
        wearBlocks: positive('thickness of a protective block at each end of the stack').optional(),
      })
      .prefault({}),
    nose: z.strictObject({ halfHeight: positive('from the tool axis to the top of the holding nose') }),
    lean: angle(
      angleBelow(1, '0'),
      'lean of the spindle, shank side low, so that only the edge cuts; 0.2 deg',
    ).prefault(0),
    boxes: z
      .array(
        z.strictObject({
          name: z.string().min(1).max(40).prefault('fixture'),
          x: side,
          y: side,
          z: side,
        }),
      )
      .max(50)
      .prefault([])
      .describe('parts of the fixture the wheel must not touch: {name, x: [from, to], y, z} from work zero'),
    table: length(ANY, 'height of the table over work zero, a negative number').optional(),
    handHeight: positive(
      'height of the wheel over work zero while hands are in; usually the top of its travel',
    ).optional(),
    diamond: z
      .strictObject({
        x: length(ANY, 'X of its point'),
        y: length(ANY, 'Y of its point').optional(),
        z: length(ANY, 'Z of its point'),
      })
      .optional()
      .describe('point of a dressing diamond, as the axes read it from work zero: {x: 60, y: 0, z: -5}'),
    handsOff: time('added to the coast-down before a hand goes in').prefault('2 s'),
  });
};

/** Reads `32 m/s` as what it is; the wheel's diameter turns it into rev/min later. */
function surfaceOrRotation() {
  return z.string().transform((text, context) => {
    const surface = /^\s*(\d+(?:\.\d+)?)\s*m\/s\s*$/.exec(text);
    if (surface !== null && Number(surface[1]) > 0) return { surface: Number(surface[1]) };
    context.addIssue({ code: 'custom', message: 'write rev/min, or a surface speed such as 32 m/s' });
    return z.NEVER;
  });
}

/** What a wheel is marked with: rev/min, or m/s at the rim. */
export type Marked = RevPerMin | { readonly surface: number };

/** A punch as written: the section, or the socket it is for. */
export interface PunchFile extends Omit<PunchForm, 'tolerance'> {
  readonly tolerance?: Tolerance | undefined;
  readonly section?:
    | keyof typeof NAMED_SECTIONS
    | { readonly sides: number }
    | { readonly flats: readonly { readonly at: Rad; readonly distance: Mm }[] }
    | undefined;
  readonly socket?: string | undefined;
  readonly socketShare?: number | undefined;
  readonly acrossFlats?: Mm | undefined;
  readonly inscribedDiameter?: Mm | undefined;
}

/** One flat that is there already, against the order or by itself. */
export type FlatFile =
  | { readonly flat: number; readonly over: Mm; readonly length?: Mm | undefined }
  | { readonly at: Rad; readonly distance: Mm; readonly length: Mm; readonly slope?: Rad | undefined };

/** Flats that are there already, as written: all alike, those of an old punch, or one by one. */
export type FlatsFile =
  | { readonly over: Mm; readonly length?: Mm | undefined }
  | { readonly of: string; readonly faceOff: Mm; readonly turned: Rad }
  | readonly FlatFile[];

/** Keys that may be left to what blank, wheel and machine are. */
type Left = 'roughInfeed' | 'finishInfeed' | 'strokeSpeed' | 'returnSpeed';
type Sequence = 'in turn' | 'opposite pairs' | readonly number[];

export type GrindingFile = Omit<Grinding, Left | 'sequence'> & {
  readonly [Key in Left]?: Grinding[Key] | undefined;
} & { readonly sequence?: Sequence | undefined };

/** How the punch is held, as written: the gauge-block set by its name. */
export type HoldingFile = Omit<Holding, 'slope'> & {
  readonly slope: Omit<Holding['slope'], 'gauges' | 'drawer'> & {
    readonly gaugeBlocks?: string | undefined;
    readonly drawer: Pick<Drawer, 'angleBlocks'> & {
      readonly [Key in 'strips' | 'pins']?: Drawer[Key] | undefined;
    };
  };
};

/** The file as read, quantities in mm, rad, mm/min, rev/min, s. */
export interface JobFile {
  readonly title: string;
  readonly units: LengthUnit;
  readonly punch: PunchFile;
  readonly blank: JobBlank & { readonly measured?: Mm | undefined; readonly flats?: FlatsFile | undefined };
  readonly wheel: Omit<WheelForm, 'height'> & {
    readonly marking?: string | undefined;
    readonly height?: Mm | undefined;
    readonly ratedSpeed: Marked;
  };
  readonly grinding: GrindingFile;
  readonly holding: HoldingFile;
  readonly spreads: JobSpreads;
  readonly machine: string;
}
