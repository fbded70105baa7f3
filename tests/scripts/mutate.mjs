/**
 * Breaks the source in small ways and sees whether a test notices. Works in a copy, so nothing here is touched.
 *   node tests/scripts/mutate.mjs [how many] [seed]
 * Survivors are listed; those looked at and found harmless stand, with the reason, in tests/mutants.md.
 * Long: about half a minute a mutant. Folders: section, wheel, check/run, and plan/passes.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import {
  cpSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));
const many = Number(process.argv[2] ?? 60);
let seed = Number(process.argv[3] ?? 1);
/** A small generator of its own (Park and Miller's multiplier), so that a run can be repeated. */
const random = () => {
  seed = (seed * 48_271) % 2_147_483_647;
  return seed / 2_147_483_647;
};

const PLACES = ['src/section', 'src/wheel', 'src/check/run', 'src/plan/passes.ts'];
/** What stands, and what takes its place. Types are full of < and >, so only those between blanks count. */
const CHANGES = [
  [/ < /g, ' <= '],
  [/ <= /g, ' < '],
  [/ > /g, ' >= '],
  [/ >= /g, ' > '],
  [/ \+ /g, ' - '],
  [/ - /g, ' + '],
  [/ \* /g, ' / '],
  [/ \/ /g, ' * '],
  [/ && /g, ' || '],
  [/ \|\| /g, ' && '],
  [/ === /g, ' !== '],
  [/ !== /g, ' === '],
  [/Math\.max\(/g, 'Math.min('],
  [/Math\.min\(/g, 'Math.max('],
  [/Math\.cos\(/g, 'Math.sin('],
  [/Math\.sin\(/g, 'Math.cos('],
  [/\btrue\b/g, 'false'],
  [/\bfalse\b/g, 'true'],
  [/\b0\b(?!\.)/g, '1'],
];

const filesOf = (place) =>
  statSync(join(root, place)).isFile()
    ? [place]
    : readdirSync(join(root, place), { recursive: true })
        .filter((name) => name.endsWith('.ts'))
        .map((name) => `${place}/${name}`);

/** Every change that can be made: file, where, from what to what. Comments, imports and types are left alone. */
const mutants = PLACES.flatMap(filesOf).flatMap((file) => {
  let at = 0;
  return readFileSync(join(root, file), 'utf8')
    .split('\n')
    .flatMap((line, i) => {
      const start = at;
      at += line.length + 1;
      if (/^\s*(\*|\/\*|\/\/|import|export type|type |readonly|\|)/.test(line)) return [];
      return CHANGES.flatMap(([what, to]) =>
        [...line.matchAll(what)].map((found) => ({
          file,
          line: i + 1,
          at: start + found.index,
          from: found[0],
          to,
          text: line.trim(),
        })),
      );
    });
});

const copy = mkdtempSync(join(tmpdir(), 'mutate-'));
try {
  for (const name of [
    'src',
    'tests',
    'bin',
    'samples',
    'shared',
    'package.json',
    'tsconfig.json',
    'README.md',
    'DEVELOPERS.md',
  ])
    cpSync(join(root, name), join(copy, name), { recursive: true });
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
  const apart = ['tests/sheet/**', 'tests/command/**', 'tests/readme.test.ts'].flatMap((glob) => [
    '--exclude',
    glob,
  ]);
  const test = () =>
    spawnSync('npx', ['vitest', 'run', '--config', 'tests/vitest.config.ts', '--bail', '1', ...apart], {
      cwd: copy,
      encoding: 'utf8',
      env: { ...process.env, FLATWRIGHT_RUNS: '100' },
      timeout: 300_000,
    }).status === 0;
  execFileSync('npm', ['run', '-s', 'build'], { cwd: copy, stdio: 'inherit' });
  if (!test()) throw new Error('the tests do not pass as they are');
  let caught = 0;
  const left = [...mutants];
  const count = Math.min(many, left.length);
  for (let i = 0; i < count; i += 1) {
    const [one] = left.splice(Math.floor(random() * left.length), 1);
    const path = join(copy, one.file);
    const before = readFileSync(path, 'utf8');
    writeFileSync(path, before.slice(0, one.at) + one.to + before.slice(one.at + one.from.length));
    const survived = test();
    writeFileSync(path, before);
    if (survived)
      process.stdout.write(`survivor ${one.file}:${one.line} "${one.from}" to "${one.to}": ${one.text}\n`);
    else caught += 1;
  }
  process.stdout.write(
    `${mutants.length} mutants possible, ${count} tried, ${caught} caught, ${count - caught} survived\n`,
  );
} finally {
  rmSync(copy, { recursive: true });
}
