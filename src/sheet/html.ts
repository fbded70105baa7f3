/**
 * HTML and SVG as text: what a template holds is markup, what is put into it is text and escaped, unless it is markup made
 * by a template itself. Forgetting to escape cannot happen.
 */

/** Markup; a class, so that no plain text passes for it. */
export class Markup {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

/** What may be put into a template: text, numbers, markup, and lists of these, one after the other. */
export type Piece = string | number | Markup | readonly Piece[];

/** Text that stays text in HTML and SVG, whatever somebody typed. */
const escaped = (text: string): string =>
  text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');

const markup = (piece: Piece): string =>
  piece instanceof Markup
    ? piece.text
    : typeof piece === 'object'
      ? piece.map(markup).join('')
      : escaped(String(piece));

export const html = (parts: TemplateStringsArray, ...pieces: readonly Piece[]): Markup =>
  new Markup(parts.reduce((text, part, i) => `${text}${markup(pieces[i - 1] ?? '')}${part}`));

/** Markup, one a line; empty ones stand too. */
export const lines = (list: readonly Markup[]): Markup => new Markup(list.map(({ text }) => text).join('\n'));

export const NOTHING = new Markup('');

/** Style and script of our own, which no template may escape. */
export const asIs = (ours: string): Markup => new Markup(ours);
