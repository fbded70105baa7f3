/**
 * The few things a colleague would ask, each a key of the job, and how they go in and out of its text: the text is
 * the job, comments and all, and a field changes its one place in it.
 */
import { type Document, isMap, isScalar, parseDocument } from 'yaml';

export interface Field {
  readonly key: string;
  readonly label: string;
  /** What it may be, or what would do. */
  readonly hint: string;
  readonly choices?: readonly string[];
  /** Where a hand wants to feel what it does: from, to, step, and the unit it is typed with, in mm or in inches. */
  readonly slider?: Readonly<
    Record<'mm' | 'inch', readonly [from: number, to: number, step: number, unit: string]>
  >;
}

export interface FieldGroup {
  readonly title: string;
  readonly fields: readonly Field[];
}

/** What goes when another key comes: a socket gives section and size, a rotary axis needs no device. */
const GOES: readonly { readonly when: string; readonly is: RegExp; readonly without: readonly string[] }[] = [
  {
    when: 'punch.socket',
    is: /\S/,
    without: ['punch.section', 'punch.acrossFlats', 'punch.inscribedDiameter'],
  },
  { when: 'punch.section', is: /\S/, without: ['punch.socket', 'punch.socketShare'] },
  { when: 'punch.acrossFlats', is: /\S/, without: ['punch.socket', 'punch.inscribedDiameter'] },
  { when: 'punch.inscribedDiameter', is: /\S/, without: ['punch.socket', 'punch.acrossFlats'] },
  { when: 'holding.index', is: /^rotary axis$/, without: ['holding.device'] },
];

/** What people write short. */
const SHORT: Readonly<Record<string, (typed: string) => string>> = {
  'blank.flats': (typed) =>
    /^[\d.]+\s*(mm|in|inch)?$/.test(typed.trim()) ? `{ over: ${typed.trim()} }` : typed,
};

/** @param machines names of the profiles there are */
export const fieldsFor = (machines: readonly string[]): readonly FieldGroup[] => [
  {
    title: 'What is wanted',
    fields: [
      { key: 'title', label: 'Title', hint: 'as it stands on sheet and program' },
      { key: 'units', label: 'Units', hint: 'of lengths without a unit', choices: ['mm', 'inch'] },
      {
        key: 'punch.socket',
        label: 'For sockets',
        hint: 'hex 5, hex 1/4 in, square 3/8 in; or give a section',
      },
      { key: 'punch.section', label: 'Section', hint: 'hex, square, triangle, octagon, { sides: 5 }' },
      { key: 'punch.acrossFlats', label: 'Across flats', hint: 'of a section with an even number of flats' },
      {
        key: 'punch.inscribedDiameter',
        label: 'Inscribed circle',
        hint: 'of a section with an odd number of flats',
      },
      {
        key: 'punch.flatLength',
        label: 'Flat length',
        hint: 'full width, along the axis; twice the size is usual',
      },
      {
        key: 'punch.relief',
        label: 'Relief',
        hint: 'more than the head tilts; 2 to 3 deg',
        slider: { mm: [1.2, 5, 0.1, 'deg'], inch: [1.2, 5, 0.1, 'deg'] },
      },
    ],
  },
  {
    title: 'The blank',
    fields: [
      { key: 'blank.shape', label: 'Shape', hint: 'usually round', choices: ['', 'round', 'square', 'hex'] },
      { key: 'blank.size', label: 'Size', hint: 'diameter, or across flats' },
      { key: 'blank.measured', label: 'As measured', hint: 'if you did' },
      { key: 'blank.stickOut', label: 'Stick-out', hint: 'front face to holding nose' },
      { key: 'blank.material', label: 'Material', hint: 'usually high-speed steel' },
      {
        key: 'blank.flats',
        label: 'Flats already there',
        hint: 'how far over the order, such as 0.25; else nothing',
      },
    ],
  },
  {
    title: 'The wheel',
    fields: [
      {
        key: 'wheel.shape',
        label: 'Shape',
        hint: 'usually straight',
        choices: ['', 'straight cup', 'flaring cup'],
      },
      { key: 'wheel.diameter', label: 'Diameter', hint: 'over the rim' },
      { key: 'wheel.rim', label: 'Rim', hint: 'its width' },
      { key: 'wheel.height', label: 'Height', hint: 'of the wheel' },
      { key: 'wheel.ratedSpeed', label: 'Marked speed', hint: 'as marked on the wheel: rev/min, or 32 m/s' },
      { key: 'wheel.abrasive', label: 'Abrasive', hint: 'usually aluminium oxide' },
    ],
  },
  {
    title: 'Grinding',
    fields: [
      { key: 'grinding.spindleSpeed', label: 'Spindle speed', hint: 'rev/min, never over the mark' },
      {
        key: 'grinding.strokeSpeed',
        label: 'Stroke speed',
        hint: 'usually 1200 mm/min, or what the machine feeds',
      },
      {
        key: 'grinding.roughInfeed',
        label: 'Rough infeed',
        hint: 'usually 0.02 mm',
        slider: { mm: [0.005, 0.05, 0.001, 'mm'], inch: [0.0002, 0.002, 0.0001, 'in'] },
      },
      { key: 'grinding.finishInfeed', label: 'Finish infeed', hint: 'usually 0.005 mm' },
      {
        key: 'grinding.order',
        label: 'Order',
        hint: 'usually flat by flat',
        choices: ['', 'flat by flat', 'rough first', 'one pass all round'],
      },
      { key: 'grinding.sequence', label: 'Sequence', hint: 'in turn, opposite pairs, or [1, 4, 2, 5, 3, 6]' },
      {
        key: 'grinding.measuringStop',
        label: 'Stop to measure',
        hint: 'usually none',
        choices: ['', 'none', 'after roughing', 'after the first pair', 'after each pair'],
      },
      {
        key: 'grinding.coolant',
        label: 'Coolant',
        hint: 'usually none',
        choices: ['', 'none', 'flood', 'mist'],
      },
      { key: 'grinding.wear', label: 'Wear', hint: 'usually ignored', choices: ['', 'ignore', 'compensate'] },
    ],
  },
  {
    title: 'Holding and machine',
    fields: [
      {
        key: 'machine',
        label: 'Machine',
        hint: 'a profile, or one of your own opened',
        choices: machines,
      },
      {
        key: 'holding.index',
        label: 'Index',
        hint: 'how the next flat comes up',
        choices: ['rotary axis', 'by hand'],
      },
      { key: 'holding.device', label: 'Device', hint: 'by hand: { kind: indexing block, sides: 6 }' },
      { key: 'holding.slope.by', label: 'Slope', hint: 'what leans', choices: ['fixture', 'head'] },
      { key: 'holding.slope.sineBar', label: 'Sine bar', hint: 'its length, if you have one' },
      { key: 'holding.nose.halfHeight', label: 'Nose', hint: 'half the height of the holding' },
    ],
  },
];

const pathOf = (key: string): readonly string[] => key.split('.');

/** The job's text, parsed so that it can be changed in one place; `broken` if it is no YAML. */
export function parsed(text: string): Document | 'broken' {
  const document = parseDocument(text);
  return document.errors.length > 0 || !isMap(document.contents) ? 'broken' : document;
}

/** What stands at `key`, as a person would write it; empty if nothing does. */
export function valueAt(document: Document, key: string): string {
  const node = document.getIn(pathOf(key), true);
  if (node === undefined || node === null) return '';
  const value =
    typeof node === 'object' && 'toJSON' in node ? (node as { toJSON: () => unknown }).toJSON() : node;
  return value === null || value === undefined ? '' : typeof value === 'object' ? flow(value) : String(value);
}

const isMapOrNothing = (node: unknown): boolean => node === undefined || isMap(node);

/** `{ kind: indexing block, sides: 6 }`. */
function flow(value: object): string {
  if (Array.isArray(value))
    return `[${value.map((each) => (typeof each === 'object' && each !== null ? flow(each) : String(each))).join(', ')}]`;
  const pairs = Object.entries(value).map(
    ([key, each]) => `${key}: ${typeof each === 'object' && each !== null ? flow(each) : String(each)}`,
  );
  return `{ ${pairs.join(', ')} }`;
}

/**
 * The text with `key` set to what was typed, or without it where nothing was; comments stay. As it was where the key has
 * no place in it.
 */
export function withValue(text: string, key: string, typed: string): string {
  const document = parsed(text);
  if (document === 'broken') return text;
  const path = pathOf(key);
  // A part that is drawn by its name from a shop file keeps it, and says the rest itself.
  const [part = '', ...inner] = path;
  const named = document.getIn([part], true);
  if (inner.length > 0 && isScalar(named) && typeof named.value === 'string' && typed.trim() !== '')
    document.setIn([part], document.createNode({ of: named.value }, { flow: true }));
  if (path.some((_, i) => i > 0 && !isMapOrNothing(document.getIn(path.slice(0, i), true)))) return text;
  if (typed.trim() === '') document.deleteIn(path);
  else {
    const given = parseDocument(SHORT[key]?.(typed) ?? typed);
    const node =
      given.errors.length > 0 ? document.createNode(typed) : (given.contents ?? document.createNode(typed));
    document.setIn(path, node);
    for (const { when, is, without } of GOES)
      if (when === key && is.test(typed)) for (const other of without) document.deleteIn(pathOf(other));
  }
  return document.toString({ lineWidth: 0, flowCollectionPadding: true });
}
