/** SVG pieces: numbers short. Drawings are in millimetres, y down. */
import { trimmed } from '../../quantity/decimal.js';
import { html, type Markup } from '../html.js';

export type Point = readonly [x: number, y: number];

/** Hundredths of a millimetre are finer than any printer. */
const n = (value: number): string => trimmed(value, 2);

const points = (list: readonly Point[]): string => list.map(([x, y]) => `${n(x)},${n(y)}`).join(' ');

export const polygon = (list: readonly Point[], of: string): Markup =>
  html`<polygon class="${of}" points="${points(list)}"/>`;

export const polyline = (list: readonly Point[], of: string): Markup =>
  html`<polyline class="${of}" points="${points(list)}"/>`;

export const line = (from: Point, to: Point, of: string): Markup =>
  html`<line class="${of}" x1="${n(from[0])}" y1="${n(from[1])}" x2="${n(to[0])}" y2="${n(to[1])}"/>`;

export const circle = ([x, y]: Point, radius: number, of: string): Markup =>
  html`<circle class="${of}" cx="${n(x)}" cy="${n(y)}" r="${n(radius)}"/>`;

export type Anchor = 'start' | 'middle' | 'end';

export const label = ([x, y]: Point, text: string, size: number, anchor: Anchor = 'middle'): Markup =>
  html`<text x="${n(x)}" y="${n(y)}" font-size="${n(size)}" text-anchor="${anchor}">${text}</text>`;

/** A label on what is filled: without the light edge that sets others off from lines. */
export const labelOn = ([x, y]: Point, text: string, size: number): Markup =>
  html`<text class="plain" x="${n(x)}" y="${n(y)}" font-size="${n(size)}" text-anchor="middle">${text}</text>`;

/** A dimension between two points of one row or column, with ticks at its ends. */
export function dimension(from: Point, to: Point, tick: number): Markup {
  const level = from[1] === to[1];
  const ends = [from, to].map(([x, y]) =>
    level ? line([x, y - tick], [x, y + tick], 'thin') : line([x - tick, y], [x + tick, y], 'thin'),
  );
  return html`${line(from, to, 'thin')}${ends}`;
}

/** A drawing of its own scale and place in a frame within another; what lies outside its box is not shown. */
export const framed = (
  [x, y, width, height]: readonly [x: number, y: number, width: number, height: number],
  box: readonly [x: number, y: number, width: number, height: number],
  body: readonly Markup[],
): Markup =>
  html`<svg x="${n(x)}" y="${n(y)}" width="${n(width)}" height="${n(height)}" viewBox="${box.map(n).join(' ')}">${body}</svg><rect class="thin" x="${n(x)}" y="${n(y)}" width="${n(width)}" height="${n(height)}"/>`;

/** @param describe what a person who cannot see it is told. */
export const picture = (
  box: readonly [x: number, y: number, width: number, height: number],
  describe: string,
  body: readonly Markup[],
): Markup => html`<svg viewBox="${box.map(n).join(' ')}" role="img" aria-label="${describe}">${body}</svg>`;
