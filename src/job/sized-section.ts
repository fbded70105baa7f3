/** A section of one size, as a person names it to ask what a punch for it comes to. */
import { type Mm, mm, rad } from '../quantity/unit.js';
import type { Section } from '../section/flat.js';
import type { Socket } from './socket.js';

/** Of a socket's table, regular of one's own, or a round with flats. */
export type SizedSection =
  | {
      readonly kind: 'socket';
      readonly socket: Socket;
      /** How far up the socket's limits the punch is ground, 0 to 1. */
      readonly share: number;
    }
  | { readonly kind: 'regular'; readonly sides: number /** Across flats, or inscribed. */; readonly size: Mm }
  | Rounded;

/** A D, or a double-D. */
export interface Rounded {
  readonly kind: 'rounded';
  readonly flats: 1 | 2;
  readonly round: Mm;
  /** Over the flat and the round behind it, or over both flats. */
  readonly across: Mm;
}

/** Its flats: one as far from the axis as the round leaves of what is over it, or two that share it. */
export const flatsOfRounded = ({ flats, round, across }: Rounded): Section =>
  flats === 1
    ? [{ at: rad(0), distance: mm(across - round / 2) }]
    : [0, Math.PI].map((at) => ({ at: rad(at), distance: mm(across / 2) }));
