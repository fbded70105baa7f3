/** The bundled command and the compiled code kept beside it: whatever becomes of that, the command is the same. */
import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const PARTS = ['bin', 'dist/bin', 'shared', 'samples', 'package.json'];

let folder = '';
let [cache, bundle] = ['', ''];
let whole: Buffer = Buffer.of();
let text = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'load-'));
  for (const part of PARTS) cpSync(join(root, part), join(folder, part), { recursive: true });
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'));
  bundle = join(folder, 'dist/bin/flatwright.cjs');
  cache = `${bundle}.cache`;
  whole = readFileSync(cache);
  text = readFileSync(bundle, 'latin1');
  // Letters of every kind that a job may hold and a bundle could lose.
  const job = readFileSync(join(root, 'samples/stem-bolt-hex-5.yaml'), 'utf8');
  writeFileSync(
    join(folder, 'odd.yaml'),
    job
      .replace(/relief: .*/, "relief: 2° 30'")
      .replace(/sineBar: 100/, 'sineBar: 4”')
      .replace(/roughInfeed: .*/, 'roughInfeed: 20 μm'),
  );
});
afterAll(() => rmSync(folder, { recursive: true }));

const flatwright = (...argv: readonly string[]): string =>
  execFileSync(process.execPath, [join(folder, 'bin/flatwright.js'), ...argv], {
    cwd: folder,
    encoding: 'utf8',
  });

/** Whether the compiled code is taken, in a process of its own: damaged code, if it were run, would end it. */
function isTaken(): boolean {
  const ask = "process.stdout.write(String(require('./bin/load.js').fromCache() !== undefined))";
  return execFileSync(process.execPath, ['-e', ask], { cwd: folder, encoding: 'utf8' }) === 'true';
}

const restore = (): void => {
  writeFileSync(cache, whole);
  writeFileSync(bundle, text, 'latin1');
};

describe('code kept compiled', () => {
  test('is taken as it was built, and reads what people write as the text itself does', () => {
    expect(isTaken()).toBe(true);
    expect(text).toMatch(/^\p{ASCII}*$/u);
    const quick = [flatwright('post', 'odd.yaml'), flatwright('size', 'hex 3/16”')];
    expect(quick[0]).toContain('RELIEF 2.5 DEG');
    rmSync(cache);
    expect(isTaken()).toBe(false);
    expect([flatwright('post', 'odd.yaml'), flatwright('size', 'hex 3/16”')]).toEqual(quick);
    restore();
  });

  test('of another text, as long as this, it is not', () => {
    const other = text.replaceAll('nothing against it', 'NOTHING AGAINST IT');
    expect(other).not.toBe(text);
    writeFileSync(bundle, other, 'latin1');
    expect(isTaken()).toBe(false);
    expect(
      flatwright('check', 'samples/stem-bolt-hex-5.nc', '--job', 'samples/stem-bolt-hex-5.yaml'),
    ).toContain('NOTHING AGAINST IT');
    restore();
  });

  test.each([
    ['a bit turned in it', (code: Buffer) => code.fill((code[90_000] ?? 0) ^ 4, 90_000, 90_001)],
    ['a bit turned in its digest', (code: Buffer) => code.fill((code[3] ?? 0) ^ 1, 3, 4)],
    ['cut short', (code: Buffer) => code.subarray(0, 700_000)],
    ['empty', () => Buffer.of()],
    ['something else', () => Buffer.from('no code at all')],
  ])('%s, it is left alone and the text is compiled', (_, damage) => {
    writeFileSync(cache, damage(Buffer.from(whole)));
    expect(isTaken()).toBe(false);
    expect(flatwright('--version')).toMatch(/^\d+\.\d+\.\d+\n$/);
    restore();
  });

  test('not to be read, it is left alone', () => {
    rmSync(cache);
    // A folder of its name cannot be read by anybody, not even root.
    cpSync(join(folder, 'bin'), cache, { recursive: true });
    expect(isTaken()).toBe(false);
    expect(flatwright('--version')).toMatch(/^\d+/);
    rmSync(cache, { recursive: true });
    restore();
  });

  test('what never comes to its end does not end as if it had', () => {
    const main = join(folder, 'bin/flatwright.js');
    const asIs = readFileSync(main, 'utf8');
    writeFileSync(main, asIs.replace('run(process.argv.slice(2), io)', 'new Promise(() => {})'));
    expect(() => flatwright('--version')).toThrow(/Command failed/);
    writeFileSync(main, asIs);
  });
});
