/**
 * The set-up sheet as data: parts in the order things are done, each with facts, tables, notes and perhaps a picture. Page, terminal text
 * and JSON are three ways to write it, so none can say what another does not.
 */
export interface Fact {
  readonly label: string;
  readonly value: string;
  /** Read at arm's length: what a hand sets or an eye compares. */
  readonly big?: true;
  /** What stands over the room left beside it, to write in by pen what was found: `as read`. */
  readonly pen?: string;
}

export interface TableData {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Columns left empty, to write in by pen. */
  readonly pen?: readonly string[];
}

export type Picture = 'section' | 'side' | 'slope' | 'touch' | 'passes' | 'block';

export interface Part {
  readonly id: string;
  readonly heading: string;
  readonly picture?: Picture;
  readonly facts: readonly Fact[];
  readonly tables: readonly TableData[];
  readonly notes: readonly string[];
}

export const part = (id: string, heading: string, content: Partial<Omit<Part, 'id' | 'heading'>>): Part => ({
  id,
  heading,
  facts: [],
  tables: [],
  notes: [],
  ...content,
});

export const fact = (label: string, value: string): Fact => ({ label, value });
/** A fact with room beside it for what was found. */
export const checked = (fact: Fact, pen: string): Fact => ({ ...fact, pen });
export const big = (label: string, value: string): Fact => ({ label, value, big: true });

/** A phrase as it opens a line. */
export const capital = (text: string): string => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
