/**
 * Whole processes against a bare `node -e 0`, side by side in one loop, medians. Ratios of one run; needs `npm run build`.
 *   node tests/bench/start.mjs [rounds]
 */
import { spawnSync } from 'node:child_process';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));
const rounds = Number(process.argv[2] ?? 15);
const bin = 'bin/flatwright.js';
const HEX = 'samples/stem-bolt-hex-5';

/** What is wanted, times a bare node. */
const runs = [
  { what: 'node -e 0', args: ['-e', '0'], wanted: 1 },
  { what: '--version', args: [bin, '--version'], wanted: 2 },
  { what: '--help', args: [bin, '--help'], wanted: 2 },
  { what: 'size hex 5', args: [bin, 'size', 'hex', '5'], wanted: 3 },
  { what: 'post stem-bolt-hex-5', args: [bin, 'post', `${HEX}.yaml`], wanted: 5 },
  { what: 'check stem-bolt-hex-5', args: [bin, 'check', `${HEX}.nc`, '--job', `${HEX}.yaml`], wanted: 5 },
];

const times = runs.map(() => []);
for (let round = 0; round < rounds; round += 1) {
  runs.forEach(({ what, args }, i) => {
    const start = performance.now();
    const { status } = spawnSync(process.execPath, args, { cwd: root, stdio: ['ignore', 'ignore', 'pipe'] });
    times[i].push(performance.now() - start);
    if (status !== 0) throw new Error(`${what} ends with ${status}`);
  });
}

const median = (list) => list.toSorted((a, b) => a - b)[Math.floor(list.length / 2)];
const bare = median(times[0]);
process.stdout.write(`node ${process.version}, ${cpus()[0]?.model ?? 'unknown'}, ${rounds} rounds\n`);
process.stdout.write('whole process, times a bare node        is   wanted\n');
runs.forEach(({ what, wanted }, i) => {
  const ratio = (median(times[i]) / bare).toFixed(1);
  process.stdout.write(`${what.padEnd(36)}${ratio.padStart(6)}${String(wanted).padStart(9)}\n`);
});
