/** A section of one size, as a person names it to ask what a punch for it comes to. */
import type { Mm } from '../quantity/unit.js';
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
  | {
      readonly kind: 'rounded';
      readonly flats: 1 | 2;
      readonly round: Mm;
      /** Over the flat and the round behind it, or over both flats. */
      readonly across: Mm;
    };
