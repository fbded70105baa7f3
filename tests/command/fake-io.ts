/** A world that a test controls: its own folder, its own input, and everything said kept. */
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { linesOf } from '../../src/check/read/lines.js';
import type { Io } from '../../src/command/io.js';
import { run } from '../../src/command/main.js';

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

export interface World {
  readonly folder: string;
  readonly run: (argv: readonly string[], input?: string, answers?: readonly string[]) => Promise<Ran>;
  readonly remove: () => void;
}

/** A fresh folder that holds a copy of samples. */
export function createWorld(): World {
  const folder = mkdtempSync(join(tmpdir(), 'flatwright-test-'));
  cpSync(fileURLToPath(new URL('../../samples', import.meta.url)), join(folder, 'samples'), {
    recursive: true,
  });
  return {
    folder,
    remove: () => rmSync(folder, { recursive: true }),
    run: async (argv, input = '', answers = []) => {
      let [out, err] = ['', ''];
      const left = [...answers];
      const io: Io = {
        out: (text) => {
          out += text;
        },
        err: (text) => {
          err += text;
        },
        inputLines: async function* () {
          yield* linesOf(input);
        },
        inputText: async () => input,
        ask: answers.length === 0 ? 'no terminal' : async () => left.shift() ?? '',
        colour: { out: false, err: false },
        cwd: folder,
      };
      const code = await run(argv, io);
      return { code, out, err };
    },
  };
}
