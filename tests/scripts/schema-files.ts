/** The JSON Schemas shipped for editors, generated from the schemas that read the files. */
import * as z from 'zod';
import { reportSchema } from '../../src/command/report-schema.js';
import { jobSchema } from '../../src/file/job-schema.js';
import { handMachineSchema, machineSchema } from '../../src/file/machine-schema.js';

const file = (
  name: string,
  title: string,
  schema: z.ZodType,
): { readonly path: string; readonly text: string } => ({
  path: `shared/schema/${name}.schema.json`,
  text: `${JSON.stringify({ title, ...z.toJSONSchema(schema, { io: 'input' }) }, null, 2)}\n`,
});

type Schema = Record<string, unknown> & { properties?: Record<string, Schema>; required?: string[] };

/** A job may leave to a shop file what it does not say, and draw a wheel, blank or holding from it by name. */
function withShop(schema: Schema): Schema {
  const { required: _, ...open } = schema;
  const drawn = (part: Schema): Schema => {
    const { required: __, ...rest } = part;
    const of = { type: 'string', description: 'name of it in the shop file' } as unknown as Schema;
    return {
      anyOf: [{ type: 'string' }, { ...rest, properties: { of, ...rest.properties } }],
      description: 'written out, or by its name in the shop file',
    };
  };
  const properties = Object.fromEntries(
    Object.entries(open.properties ?? {}).map(([key, part]) => [
      key,
      ['wheel', 'blank', 'holding'].includes(key) ? drawn(part) : part,
    ]),
  );
  const shop = { type: 'string', description: 'path of a shop file' } as unknown as Schema;
  return { ...open, required: ['title', 'punch'], properties: { ...properties, shop } };
}

const jobFile = (): { readonly path: string; readonly text: string } => ({
  path: 'shared/schema/job.schema.json',
  text: `${JSON.stringify(
    { title: 'A Flatwright job', ...withShop(z.toJSONSchema(jobSchema('mm'), { io: 'input' }) as Schema) },
    null,
    2,
  )}\n`,
});

export const schemaFiles = (): readonly { readonly path: string; readonly text: string }[] => [
  jobFile(),
  file('machine', 'A Flatwright machine profile', machineSchema('mm')),
  file('hand-machine', 'A Flatwright profile of a machine without a control', handMachineSchema('mm')),
  file('check-report', 'What flatwright check --json prints', reportSchema),
];
