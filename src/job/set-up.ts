/**
 * What is set up before the first stroke, in the phrases that plan, sheet and program head all print: what is worded here
 * is worded alike in all three, and mended once. Sizes as section/corner has them.
 */
import { type Mm, mm } from '../quantity/unit.js';
import { acrossCorners, flatToCorner } from '../section/corner.js';
import type { Job } from './job.js';
import { punchTurns } from './layout.js';

export interface NamedSize {
  readonly name: 'across flats' | 'inscribed diameter' | 'across corners' | 'flat to corner';
  readonly size: Mm;
}

/** Sizes of a regular punch at its front face, the ordered one first; none of a free section. */
export function sizesOf({ punch: { sides, section, corners } }: Pick<Job, 'punch'>): readonly NamedSize[] {
  const distance = section[0]?.distance ?? mm(0);
  if (sides === 'free') return [];
  const size = mm(2 * distance);
  const ordered: NamedSize =
    sides % 2 === 0 ? { name: 'across flats', size } : { name: 'inscribed diameter', size };
  // Round lands have no corners to measure.
  if (corners !== 'sharp') return [ordered];
  return sides % 2 === 0
    ? [ordered, { name: 'across corners', size: acrossCorners(size, sides) }]
    : [ordered, { name: 'flat to corner', size: flatToCorner(distance, sides) }];
}

/** `6 flats`, `1 flat, free section`. */
export function sectionWords({ punch: { sides, section } }: Pick<Job, 'punch'>): string {
  const flats = `${section.length} ${section.length === 1 ? 'flat' : 'flats'}`;
  return sides === 'free' ? `${flats}, free section` : flats;
}

/** Where work zero lies. */
export const ZERO = 'centre of the front face, on the tool axis';

/** The point of the wheel that a program moves. */
export const programmedPoint = ({ wheel }: Pick<Job, 'wheel'>): string =>
  wheel.shape === 'plain' ? 'lowest line of the wheel, its middle' : 'centre of the rim plane';

/** A sine bar sets the slope, and nothing else was asked for. */
export const usesBar = ({ holding: { slope } }: Pick<Job, 'holding'>): boolean =>
  slope.sineBar !== undefined && (slope.using ?? 'sine bar') === 'sine bar';

export interface SlopeWords {
  /** What is sloped, and the word for it. */
  readonly part: string;
  readonly turned: string;
  /** What one is told to do. */
  readonly order: string;
  readonly way: string;
}

/** What is sloped, and which way. */
export function slopeWords({ holding: { slope }, machine }: Pick<Job, 'holding' | 'machine'>): SlopeWords {
  if (slope.by === 'fixture') return slope.using === 'block sides' ? SLOPED['block sides'] : SLOPED.fixture;
  if (!punchTurns(machine.layout)) return SLOPED.head;
  return machine.dials === undefined ? SLOPED['wheel spindle'] : SLOPED['top slide'];
}

const SLOPED = {
  fixture: {
    part: 'fixture',
    turned: 'sloped',
    order: 'Slope the fixture by',
    way: 'tip away from the wheel',
  },
  'block sides': {
    part: 'sides of the block',
    turned: 'sloped',
    order: 'The sides of the block slope by',
    way: 'tip away from the wheel',
  },
  head: {
    part: 'head',
    turned: 'tilted',
    order: 'Tilt the head by',
    way: 'spindle top toward the shank',
  },
  'wheel spindle': {
    part: 'wheel spindle',
    turned: 'swivelled',
    order: 'Swivel the wheel spindle by',
    way: 'its rear toward the chuck',
  },
  'top slide': {
    part: 'top slide',
    turned: 'swivelled',
    order: 'Swivel the top slide by',
    way: 'the wheel spindle square to it, its rear toward the chuck',
  },
} as const satisfies Readonly<Record<string, SlopeWords>>;
