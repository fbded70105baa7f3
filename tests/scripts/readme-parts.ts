/** The parts of README and guide that are generated: command table, keys, machines, samples, printed output. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type * as z from 'zod';
import { commandTree } from '../../src/command/main.js';
import { shippedMachines } from '../../src/command/shipped.js';
import { jobSchema } from '../../src/file/job-schema.js';
import { handMachineSchema, machineSchema } from '../../src/file/machine-schema.js';
import { readMachine } from '../../src/file/read.js';
import { inputSchema } from '../../src/file/validate.js';
import { handNames, sampleNames, sampleText, shippedProfile } from '../arbitrary/samples.js';
import { createWorld, type World } from '../command/fake-io.js';

type Schema = ReturnType<typeof inputSchema>;

const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, head.map(() => '---'), ...rows].map((row) => `| ${row.join(' | ')} |`).join('\n');

const code = (text: string): string => `\`${text}\``;

async function commands(): Promise<string> {
  const silent = { out: () => {}, err: () => {}, colour: { out: false, err: false }, cwd: '.' };
  const tree = await commandTree(
    { ...silent, ask: 'no terminal', inputText: async () => '', inputLines: async function* () {} },
    () => {},
  );
  const rows = tree.commands
    .filter((command) => command.name() !== 'help')
    .map((command) => [
      code(`flatwright ${command.name()} ${command.usage().replace('[options] ', '')}`),
      command.summary(),
      command.options.map((option) => code(option.long ?? option.flags)).join(' '),
    ]);
  return table(['command', 'what it does', 'options'], rows);
}

function keys(schema: z.ZodType): string {
  const rows: string[][] = [];
  const walk = (shape: Schema, above: string): void => {
    for (const [name, inner] of Object.entries(shape.properties ?? {})) {
      const key = above === '' ? name : `${above}.${name}`;
      const needed = (shape as { required?: readonly string[] }).required?.includes(name) === true;
      if (inner.properties !== undefined) {
        walk(inner, key);
        continue;
      }
      const usual =
        inner.default === undefined
          ? needed
            ? 'needed'
            : 'none'
          : code(JSON.stringify(inner.default).replaceAll('"', ''));
      const choices =
        inner.enum === undefined ? '' : inner.enum.map((value) => code(String(value))).join(', ');
      rows.push([
        code(key),
        usual,
        [inner.description ?? '', choices].filter((part) => part !== '').join(': '),
      ]);
    }
  };
  walk(inputSchema(schema), '');
  return table(['key', 'if left out', 'what it is'], rows);
}

const folded = (title: string, text: string): string =>
  `<details><summary>${title}</summary>\n\n${text}\n\n</details>`;

function machines(): string {
  const rows = shippedMachines().map((name) => {
    const { title, units, layout } = readMachine(shippedProfile(name));
    return [code(name), title, layout, units];
  });
  return table(['profile', 'what it is', 'layout', 'units'], rows);
}

function samples(): string {
  const rows = [...sampleNames, ...handNames].map((name) => {
    const said = [...sampleText(name).matchAll(/^# (.*)$/gm)].map((match) => match[1]).join(' ');
    return [`[${name}](samples/${name}.yaml)`, said];
  });
  return table(['sample', 'what it shows'], rows);
}

const generated: Readonly<Record<string, () => string | Promise<string>>> = {
  commands,
  'job keys': () => folded('Every key of a job', keys(jobSchema('mm'))),
  machines,
  'machine keys': () => folded('Every key of a machine profile', keys(machineSchema('mm'))),
  'hand machine keys': () =>
    folded('Every key of the profile of a machine without a control', keys(handMachineSchema('mm'))),
  samples,
};

/** One infeed in the sample's program made half a millimetre deep. */
function breakProgram(world: World): void {
  const text = readFileSync(join(world.folder, 'samples/stem-bolt-hex-5.nc'), 'utf8');
  const broken = text.replace('G1 Z4.298 F1200.0\n', 'G1 Z3.818 F1200.0\n');
  if (broken === text) throw new Error('the sample has no such infeed any more');
  writeFileSync(join(world.folder, 'broken.nc'), broken);
}

/** A page with every generated part made anew. */
export async function freshPage(page: string): Promise<string> {
  const world = createWorld();
  try {
    breakProgram(world);
    const made: Record<string, string> = {};
    for (const [name, make] of Object.entries(generated)) made[name] = await make();
    let text = page.replace(
      /<!-- generated: (.+?) -->\n[\s\S]*?(?=\n+(?:<!-- generated|[A-Z#])|\n*$)/g,
      (_, name: string) => `<!-- generated: ${name} -->\n\n${made[name] ?? `no such part: ${name}`}`,
    );
    for (const [whole, argv = ''] of text.matchAll(/<!-- run: (.+?) -->\n```text\n[\s\S]*?```/g)) {
      const { out } = await world.run(argv.split(' '));
      text = text.replace(whole, `<!-- run: ${argv} -->\n\`\`\`text\n${out.trimEnd()}\n\`\`\``);
    }
    return text;
  } finally {
    world.remove();
  }
}
