/** The check's report as JSON: the one source of its type and of shared/schema/check-report.schema.json. */
import * as z from 'zod';

const mm = (description: string) => z.number().describe(`${description}, mm`);

const flat = z.strictObject({
  flat: z.union([z.int(), z.literal('not ordered')]).describe('number in the order'),
  atDeg: z.number().describe('direction, degrees counter-clockwise seen from the tip'),
  distanceMm: mm('from the tool axis at the front face'),
  orderedMm: z.union([mm('ordered distance'), z.literal('none')]),
  acrossMm: mm('what a micrometer reads across this flat at the front face'),
  toNextDeg: z.number().describe('angle on to the next flat ground'),
  reliefDeg: z.number().describe('slope against the tool axis, as the set-up gives it'),
  lengthAtCentreMm: mm('length on the centre line, to the farthest reach of the rim'),
  lengthAtCornersMm: mm('length at full width'),
  passes: z.int(),
  deepestBiteMm: mm('deepest bite of a pass'),
  averageBiteMm: mm('average bite of the passes that bit'),
  sparkOut: z.int().describe('passes without a bite after the last that bit'),
});

const finding = z.looseObject({
  code: z.string().describe('plain words, stable'),
  severity: z.enum(['error', 'warning']),
  place: z.strictObject({
    program: z.string(),
    line: z.int().describe('from 1; 0 for the program as a whole'),
    text: z.string().describe('the line as it stands'),
  }),
  message: z.string().describe('the sentence a person reads'),
});

export const reportSchema = z.strictObject({
  verdict: z.enum(['run', 'refused']),
  lines: z.int().describe('lines read, of all programs'),
  findings: z
    .array(finding)
    .describe('the numbers of a finding stand beside its code, lengths in mm, angles in radians'),
  travelLeftMm: z
    .record(z.enum(['x', 'y', 'z']), z.union([mm('to the nearer end of its travel'), z.literal('unknown')]))
    .describe('how far each axis stays from the end of its travel'),
  air: z
    .union([
      z.strictObject({
        raisedMm: mm('how much higher the zero is set'),
        nearestMm: z.union([
          mm('how far over the punch the rim passes; 0 or less if it meets it'),
          z.literal('never over the punch'),
        ]),
      }),
      z.literal('none'),
    ])
    .describe('of a run in the air'),
  punch: z.strictObject({
    flats: z.array(flat),
    acrossCornersMm: z.union([mm('across corners of a regular even section'), z.literal('none')]),
    offAxisMm: z.union([mm('how far the section lies off the tool axis'), z.literal('none')]),
    landMm: z.union([mm('widest land the blank leaves at a corner'), z.literal('none')]),
    removedMm3: z.number().describe('metal removed, mm3'),
  }),
});

export type ReportJson = z.output<typeof reportSchema>;
