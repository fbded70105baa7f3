/** SVG as text: numbers short, text escaped, nothing else. Drawings are in millimetres, y down. */
import { trimmed } from '../../quantity/decimal.js';

/** Text that stays text in HTML and SVG, whatever somebody typed. */
export const escaped = (text: string): string =>
  text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');

export type Point = readonly [x: number, y: number];

/** Hundredths of a millimetre are finer than any printer. */
const n = (value: number): string => trimmed(value, 2);

const points = (list: readonly Point[]): string => list.map(([x, y]) => `${n(x)},${n(y)}`).join(' ');

export const polygon = (list: readonly Point[], of: string): string =>
  `<polygon class="${of}" points="${points(list)}"/>`;

export const polyline = (list: readonly Point[], of: string): string =>
  `<polyline class="${of}" points="${points(list)}"/>`;

export const line = (from: Point, to: Point, of: string): string =>
  `<line class="${of}" x1="${n(from[0])}" y1="${n(from[1])}" x2="${n(to[0])}" y2="${n(to[1])}"/>`;

export const circle = ([x, y]: Point, radius: number, of: string): string =>
  `<circle class="${of}" cx="${n(x)}" cy="${n(y)}" r="${n(radius)}"/>`;

export type Anchor = 'start' | 'middle' | 'end';

export const label = ([x, y]: Point, text: string, size: number, anchor: Anchor = 'middle'): string =>
  `<text x="${n(x)}" y="${n(y)}" font-size="${n(size)}" text-anchor="${anchor}">${escaped(text)}</text>`;

/** A dimension between two points of one row or column, with ticks at its ends. */
export function dimension(from: Point, to: Point, tick: number): string {
  const level = from[1] === to[1];
  const ends = [from, to].map(([x, y]) =>
    level ? line([x, y - tick], [x, y + tick], 'thin') : line([x - tick, y], [x + tick, y], 'thin'),
  );
  return `${line(from, to, 'thin')}${ends.join('')}`;
}

/** @param describe what a person who cannot see it is told. */
export const picture = (
  box: readonly [x: number, y: number, width: number, height: number],
  describe: string,
  body: string,
): string =>
  `<svg viewBox="${box.map(n).join(' ')}" role="img" aria-label="${escaped(describe)}">${body}</svg>`;
