/**
 * The whole check of a long program against gcode-parser's bare parseLine loop, against the RS274/NGC
 * interpreter, and the swept model against manifold-3d. Ratios of one run; needs `npm run build`.
 *   node tests/bench/check.mjs [blocks]
 */
import { execFileSync, spawnSync } from 'node:child_process';
import {
  closeSync,
  createReadStream,
  mkdtempSync,
  openSync,
  readFileSync,
  rmSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseLine } from 'gcode-parser';
import Module from 'manifold-3d';
import { createDryRun } from '../../dist/check/dry-run.js';
import { splitLines } from '../../dist/check/read/lines.js';
import { jobTexts } from '../../dist/command/shipped.js';
import { readJob } from '../../dist/file/read.js';

const root = new URL('../../', import.meta.url);
/** Solids take so long that the first few strokes of the flat have to do. */
const SOLID_STROKES = 8;
const blocks = Number(process.argv[2] ?? 1_000_000);
const text = (path) => readFileSync(new URL(path, root), 'utf8');
const job = readJob({ file: 'hex', text: text('samples/stem-bolt-hex-5.yaml') }, jobTexts('.'));

const say = (what, value) => process.stdout.write(`${what.padEnd(52)}${value}\n`);
const timed = async (work) => {
  const start = performance.now();
  await work();
  return performance.now() - start;
};

/** The sample, with spark-out strokes before its last one until it is long. */
const program = text('samples/stem-bolt-hex-5.nc').trimEnd().split('\n');
const spark = program.findLastIndex((line, i) => /^G1 X/.test(line) && /^G1 X/.test(program[i - 1] ?? ''));
// The stroke in and the stroke out before it, as the sample has them.
const [inward, outward] = [program[spark - 2], program[spark - 1]];
function longProgram(stroke) {
  const long = program.slice(0, spark);
  for (let i = 0; long.length < blocks; i += 1) long.push(...stroke(i));
  return [...long, ...program.slice(spark)];
}
const lines = longProgram(() => [inward, outward]);
const folder = mkdtempSync(join(tmpdir(), 'bench-'));
const file = join(folder, 'long.nc');
const unlikeFile = join(folder, 'unlike.nc');
writeFileSync(file, `${lines.join('\n')}\n`);

const check = async (file) => {
  const run = createDryRun(job);
  run.start('long.nc');
  for await (const line of splitLines(createReadStream(file, { encoding: 'latin1' }))) run.line(line);
  if (run.finish().verdict !== 'run') throw new Error('the long program is a good one');
};
const parse = async (file) => {
  let words = 0;
  for await (const line of splitLines(createReadStream(file, { encoding: 'latin1' })))
    words += parseLine(line).words.length;
  if (words < lines.length) throw new Error('every line has a word');
};

try {
  await parse(file);
  const parsing = await timed(() => parse(file));
  const checking = await timed(() => check(file));
  say(`blocks`, lines.length);
  say('whole check / bare parseLine loop, same file', (checking / parsing).toFixed(2));
  // Before the second program is made, so that only one stands in memory.
  say('peak memory, MB', Math.round(process.resourceUsage().maxRSS / 1024));
  // No line like the thousands before it, so that nothing read before helps.
  const unlike = longProgram((i) => [
    `G1 X${(Number(inward.slice(4)) + (i % 9973) / 1000).toFixed(3)}`,
    `G1 X${(Number(outward.slice(4)) + (i % 2357) / 1000).toFixed(3)}`,
  ]);
  writeFileSync(unlikeFile, `${unlike.join('\n')}\n`);
  const parsingUnlike = await timed(() => parse(unlikeFile));
  const checkingUnlike = await timed(() => check(unlikeFile));
  say('the same where no line is like another', (checkingUnlike / parsingUnlike).toFixed(2));
  say('check, microseconds a block', ((1000 * checking) / lines.length).toFixed(2));
  if (spawnSync('rs274', ['-h'], { stdio: 'ignore' }).error === undefined) {
    const reading = await timed(() =>
      execFileSync('rs274', ['-g', file], { cwd: folder, stdio: ['ignore', 'ignore', 'ignore'] }),
    );
    say('RS274/NGC interpreter / whole check', (reading / checking).toFixed(1));
  } else say('RS274/NGC interpreter', 'not installed, skipped');
  await sweptModel();
  oneLongLine();
} finally {
  rmSync(folder, { recursive: true });
}

/** A file of 100 MB without a line end, through the command: in the memory of one line, in less time than its blocks. */
function oneLongLine() {
  const long = join(folder, 'one-line.nc');
  const out = openSync(long, 'w');
  const piece = Buffer.alloc(1_000_000, 'X1.0');
  for (let i = 0; i < 100; i += 1) writeSync(out, piece);
  closeSync(out);
  const program = `const { run } = await import(${JSON.stringify(new URL('dist/command/main.js', root).href)});
const { processIo } = await import(${JSON.stringify(new URL('dist/command/process-io.js', root).href)});
const io = processIo();
await io.ended(await run(['check', ${JSON.stringify(long)}, '--job', 'samples/stem-bolt-hex-5.yaml'], io));
process.stderr.write(String(process.resourceUsage().maxRSS));`;
  const { stderr } = spawnSync(process.execPath, ['--input-type=module', '-e', program], {
    cwd: fileURLToPath(root),
    encoding: 'utf8',
  });
  say('peak memory of one line of 100 MB, MB', Math.round(Number(stderr) / 1024));
}

/** One flat of the sample: its strokes through the check's model, and as solids. */
async function sweptModel() {
  const one = program.slice(
    0,
    program.findIndex((line) => line.includes('INDEX TO 180')),
  );
  const repeats = 50;
  const ours = await timed(() => {
    for (let i = 0; i < repeats; i += 1) {
      const run = createDryRun(job);
      run.start('one.nc');
      for (const line of one) run.line(line);
    }
  });
  const solid = await Module();
  solid.setup();
  const heights = one.flatMap((line) => (/^G1 .*Z(\S+)/.exec(line) ? [Number(/Z(\S+)/.exec(line)[1])] : []));
  const theirs = await timed(() => {
    let punch = solid.CrossSection.circle(4, 180).extrude(24).rotate([0, -90, 0]);
    for (const z of heights.slice(0, SOLID_STROKES)) {
      const circle = solid.CrossSection.circle(37.5, 180);
      const plan = solid.CrossSection.hull([circle.translate([27.581, 0]), circle.translate([40.674, 0])]);
      const wheel = plan.extrude(40).translate([0, 0, z]).rotate([0, -2.5, 0]);
      const rest = punch.subtract(wheel);
      rest.volume();
      for (const used of [punch, wheel, plan, circle]) used.delete();
      punch = rest;
    }
  });
  const [solidEach, ourEach] = [theirs / SOLID_STROKES, ours / repeats / heights.length];
  say('manifold-3d / check, one stroke of a flat', (solidEach / ourEach).toFixed(0));
}
