/** Before the tests: builds `dist` if it is not there or older than the sources, for the tests that start the real process. */
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));

export default function buildOnce(): void {
  // The last that a build writes.
  const built = join(root, 'dist/page.html');
  const newest = Math.max(
    ...['src', 'bin'].flatMap((folder) =>
      readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).map(
        (file) => statSync(join(root, folder, file)).mtimeMs,
      ),
    ),
  );
  if (existsSync(built) && statSync(built).mtimeMs > newest) return;
  execFileSync('npm', ['run', '--silent', 'build'], {
    cwd: root,
    stdio: 'inherit',
    shell: process.platform === 'win32',
  });
}
