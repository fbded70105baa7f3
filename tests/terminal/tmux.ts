/** A real terminal of 80 columns and 40 rows: tmux, if it is installed (the Debian package tmux). */
import { spawnSync } from 'node:child_process';
import { setTimeout as wait } from 'node:timers/promises';

export const hasTmux = spawnSync('tmux', ['-V'], { stdio: 'ignore' }).error === undefined;

export const COLUMNS = 80;
export const ROWS = 40;

/** How long a command may take, and how often it is looked at, ms. */
const [PATIENCE, LOOK] = [60_000, 40] as const;

export interface Terminal {
  /** Types text and presses Enter. */
  readonly type: (text: string) => void;
  /** Waits until `text` stands on the screen, and gives all that was written since the start. */
  readonly shows: (text: string | RegExp) => Promise<string>;
  /** Lines that left the screen at its top. */
  readonly scrolled: () => number;
  readonly close: () => void;
}

/** Said by the shell when the command is done, with its exit code, where the next command would be typed. */
export const DONE = /^DONE (\d+)$/m;

const quoted = (word: string): string => `'${word.replaceAll("'", "'\\''")}'`;

/** Runs `argv` in `folder` in a terminal of its own. */
export function openTerminal(folder: string, argv: readonly string[]): Terminal {
  const socket = `flatwright-test-${process.pid}-${Math.random().toString(36).slice(2)}`;
  const tmux = (...args: readonly string[]): string =>
    spawnSync('tmux', ['-L', socket, '-f', '/dev/null', ...args], { encoding: 'utf8' }).stdout;
  const command = `cd ${quoted(folder)}; env -u NO_COLOR ${argv.map(quoted).join(' ')}; printf 'DONE %s' $?; sleep 100`;
  tmux('new-session', '-d', '-x', `${COLUMNS}`, '-y', `${ROWS}`, command);
  // Lines the terminal broke are joined, so that one too long is seen as it was written.
  const written = (): string =>
    tmux('capture-pane', '-p', '-J', '-S', '-')
      .split('\n')
      .map((line) => line.trimEnd())
      .join('\n')
      .trimEnd();
  return {
    type: (text) => {
      tmux('send-keys', '-l', text);
      tmux('send-keys', 'Enter');
    },
    shows: async (text) => {
      for (let waited = 0; waited < PATIENCE; waited += LOOK) {
        const all = written();
        if (typeof text === 'string' ? all.includes(text) : text.test(all)) return all;
        await wait(LOOK);
      }
      throw new Error(`never shown: ${String(text)}\n${written()}`);
    },
    scrolled: () => Number(tmux('display-message', '-p', '#{history_size}')),
    close: () => {
      tmux('kill-server');
    },
  };
}
