/** The JSON Schemas shipped for editors, generated from the schemas that read the files. */
import * as z from 'zod';
import { reportSchema } from '../../src/command/report-schema.js';
import { jobSchema } from '../../src/file/job-schema.js';
import { machineSchema } from '../../src/file/machine-schema.js';

const file = (
  name: string,
  title: string,
  schema: z.ZodType,
): { readonly path: string; readonly text: string } => ({
  path: `shared/schema/${name}.schema.json`,
  text: `${JSON.stringify({ title, ...z.toJSONSchema(schema, { io: 'input' }) }, null, 2)}\n`,
});

export const schemaFiles = (): readonly { readonly path: string; readonly text: string }[] => [
  file('job', 'A Flatwright job', jobSchema('mm')),
  file('machine', 'A Flatwright machine profile', machineSchema('mm')),
  file('check-report', 'What flatwright check --json prints', reportSchema),
];
