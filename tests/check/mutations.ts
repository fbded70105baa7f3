/** Ways to break a posted program that hurt: each takes its lines and where to strike, and gives other lines. */

/** Where in the text, from 0 to 1, and a second choice. */
export interface Pick {
  readonly at: number;
  readonly other: number;
}
export type Mutation = (lines: readonly string[], pick: Pick) => readonly string[];

const indexesOf = (lines: readonly string[], what: RegExp): readonly number[] =>
  lines.flatMap((line, i) => (what.test(line) ? [i] : []));

const choose = (places: readonly number[], at: number): number | undefined =>
  places[Math.floor(at * places.length)];

/** Rewrites one of the lines that match. */
const rewrite =
  (what: RegExp, how: (line: string, other: number) => string): Mutation =>
  (lines, { at, other }) => {
    const place = choose(indexesOf(lines, what), at);
    return lines.map((line, i) => (i === place ? how(line, other) : line));
  };

const remove =
  (what: RegExp): Mutation =>
  (lines, { at }) => {
    const place = choose(indexesOf(lines, what), at);
    return lines.filter((_, i) => i !== place);
  };

const swap =
  (what: RegExp, away: (place: number, all: readonly number[]) => number | undefined): Mutation =>
  (lines, { at }) => {
    const all = indexesOf(lines, what);
    const a = choose(all, at);
    const b = a === undefined ? undefined : away(a, all);
    if (a === undefined || b === undefined) return lines;
    return lines.map((line, i) => (i === a ? (lines[b] ?? '') : i === b ? (lines[a] ?? '') : line));
  };

const nextOf = (place: number, all: readonly number[]): number | undefined => all[all.indexOf(place) + 1];
const MOTION = /\bG[01] /;
const BLOCK = /^(N\d+ )?[GMS]/;
const INFEED = /\bG1 (X\S+ Y\S+ )?Z/;
const number = (line: string, letter: string, how: (value: number) => number): string =>
  line.replace(
    new RegExp(`${letter}(-?[\\d.]+)`),
    (_, value: string) => `${letter}${how(Number(value)).toFixed(3)}`,
  );

export const mutations: Readonly<Record<string, Mutation>> = {
  'drop a block': remove(BLOCK),
  'duplicate a block': (lines, { at }) => {
    const place = choose(indexesOf(lines, BLOCK), at);
    return lines.flatMap((line, i) => (i === place ? [line, line] : [line]));
  },
  'swap neighbours': (lines, { at }) => swap(BLOCK, (place) => place + 1)(lines, { at, other: 0 }),
  'drop a word': rewrite(BLOCK, (line, other) => {
    const words = line.split(' ');
    return words.filter((_, i) => i !== Math.floor(other * words.length)).join(' ');
  }),
  'drop a motion word': rewrite(MOTION, (line) => line.replace(/G[01] /, '')),
  'G1 to G0': rewrite(/\bG1 /, (line) => line.replace('G1 ', 'G0 ')),
  'G0 to G1': rewrite(/\bG0 /, (line) => line.replace('G0 ', 'G1 ')),
  'absolute to incremental': rewrite(/\bG90/, (line) => line.replace('G90', 'G91')),
  'units changed': rewrite(/\bG21/, (line) => line.replace('G21', 'G20')),
  'X sign': rewrite(/X-?\d/, (line) => number(line, 'X', (value) => -value)),
  'Z sign': rewrite(/Z-?\d/, (line) => number(line, 'Z', (value) => -value)),
  'X point moved': rewrite(/X-?\d/, (line, other) =>
    number(line, 'X', (value) => (other < 0.5 ? value / 10 : value * 10)),
  ),
  'Z point moved': rewrite(/Z-?\d/, (line, other) =>
    number(line, 'Z', (value) => (other < 0.5 ? value / 10 : value * 10)),
  ),
  'a digit of Z': rewrite(/Z-?\d/, (line, other) =>
    line.replace(/(Z-?\d*\.\d*)(\d)/, (_, head: string) => `${head}${Math.floor(other * 10)}`),
  ),
  'a digit of X': rewrite(/X-?\d/, (line, other) =>
    line.replace(/(X-?\d)(\d)/, (_, head: string) => `${head}${Math.floor(other * 10)}`),
  ),
  'infeed doubled': rewrite(INFEED, (line) => number(line, 'Z', (value) => value - 0.02)),
  'infeed half a millimetre deep': rewrite(INFEED, (line) => number(line, 'Z', (value) => value - 0.5)),
  'stroke two millimetres too far': rewrite(/\bG1 X/, (line) => number(line, 'X', (value) => value - 2)),
  'Y off': rewrite(/Y0\.000/, (line) => line.replace('Y0.000', 'Y2.000')),
  'lost retract': remove(/\bG0 Z/),
  'lost clear': remove(/\bG1 X(40|53)/),
  'lost M5': remove(/\bM5/),
  'lost M0': remove(/\bM0/),
  'lost M3': remove(/\bM3/),
  'lost dwell': remove(/\bG4 /),
  'dwell a tenth': rewrite(/\bG4 P/, (line) => number(line, 'P', (value) => value / 10)),
  'M3 to M4': rewrite(/\bM3\b/, (line) => line.replace('M3', 'M4')),
  'M5 to M3': rewrite(/\bM5\b/, (line) => line.replace('M5', 'M3')),
  'lost coolant': remove(/\bM8/),
  'speed over rating': rewrite(/\bS\d/, (line) =>
    line.replace(/S(\d+)/, (_, s: string) => `S${Number(s) * 2}`),
  ),
  'speed lost': remove(/\bS\d/),
  'feed tenfold': rewrite(/F\d/, (line) => number(line, 'F', (value) => value * 10)),
  'feed lost': rewrite(/ F\d/, (line) => line.replace(/ F[\d.]+/, '')),
  'swap two indexes': swap(/\bA\d+\.000|INDEX TO/, nextOf),
  'index lost': remove(/\bA[1-9]|INDEX TO/),
  'index changed': rewrite(/\bA\d|INDEX TO/, (line) =>
    line.replace(/(A|TO )(\d+)/, (_, head: string, value: string) => `${head}${Number(value) + 30}`),
  ),
  'index moved earlier': (lines, { at }) => {
    const place = choose(indexesOf(lines, /\bA[1-9]|INDEX TO [1-9]/), at);
    if (place === undefined) return lines;
    const moved = [...lines];
    const [line = ''] = moved.splice(place, 1);
    moved.splice(place - 12, 0, line);
    return moved;
  },
  'end lost': remove(/\bM30|\bM2$/),
  'cut off': (lines, { at }) => lines.slice(0, Math.floor(at * lines.length)),
  'number lost': rewrite(MOTION, (line) => line.replace(/([XZ])-?[\d.]+/, '$1')),
  'decimal comma': rewrite(/\d\.\d/, (line) => line.replace(/(\d)\.(\d)/, '$1,$2')),
  'a passage gone': (lines, { at, other }) => {
    const place = Math.floor(at * lines.length);
    return lines.filter((_, i) => i < place || i > place + 3 + other * 40);
  },
};
