/**
 * The page: the job on the left, as fields and as text; on the right what it comes to, live: verdict, drawings, sheet,
 * dry run. Nothing leaves the browser. The sheet stands in a frame of its own, as it is saved and printed.
 */
import type { Job } from '../job/job.js';
import { isPostable, type Plan } from '../plan/plan.js';
import { findSavings } from '../plan/savings.js';
import { toolOf } from '../plan/tool.js';
import { degFromRad } from '../quantity/angle.js';
import { trimmed } from '../quantity/decimal.js';
import { fromMm } from '../quantity/length.js';
import { sayIn } from '../quantity/say.js';
import type { DialSheet } from '../sheet/hand/sheet.js';
import { dialPage, sheetPage } from '../sheet/page.js';
import type { SheetProgram } from '../sheet/parts/index-table.js';
import { type ErrorWords, USUAL_PUNCHES } from '../wording/errors.js';
import { NOT_JUDGED } from '../wording/reading.js';
import { savingWords } from '../wording/saving.js';
import { element, fill } from './dom.js';
import { begin, type Running } from './far.js';
import { type Field, fieldsFor, parsed, valueAt, withValue } from './fields.js';
import { type Adjusted, adjusted } from './readings.js';
import {
  assets,
  baseName,
  MACHINES,
  NOTHING_OPENED,
  type Opened,
  type OpenedFile,
  SAMPLES,
} from './shipped.js';
import type { Answer, Task } from './task.js';
import { type Complaint, fileName, type Worked, work } from './work.js';

/** Where the last job is kept for the next time; nothing else is. */
const KEPT = 'flatwright.job';
/** Typing pauses this long before the program is posted and dry-run, ms. */
const PAUSE = 300;

const FIELDS = fieldsFor(Object.keys(MACHINES));
let opened: Opened = NOTHING_OPENED;
/** What takes long is done elsewhere; a change of the job stops it. */
const running = new Map<HTMLElement, Running>();
let others: readonly SheetProgram[] = [];
let worked: Worked | 'not yet' = 'not yet';
let waiting: ReturnType<typeof setTimeout> | undefined;

/** What stands on the page; made when it begins, since a worker of the same code has none. */
let text!: HTMLTextAreaElement;
let verdict!: HTMLDivElement;
let complaints!: HTMLUListElement;
let frame!: HTMLIFrameElement;
let readings!: HTMLTextAreaElement;
let stage!: HTMLSelectElement;
let corrected!: HTMLElement;
let buttons!: HTMLDivElement;
let beside!: HTMLUListElement;
let errors!: HTMLElement;
let sooner!: HTMLElement;
let opener!: HTMLInputElement;
let samples!: HTMLSelectElement;
const inputs = new Map<string, HTMLInputElement | HTMLSelectElement>();

function fieldFor(field: Field): HTMLElement {
  const id = `field-${field.key.replaceAll('.', '-')}`;
  const described = { id, 'aria-describedby': `${id}-hint` };
  const changed = (): void => {
    text.value = withValue(text.value, field.key, input.value);
    later();
    // Another key may have gone with it.
    toFields();
  };
  const input: HTMLInputElement | HTMLSelectElement =
    field.choices === undefined
      ? element('input', { ...described, autocomplete: 'off' }, [], { input: changed })
      : element(
          'select',
          described,
          field.choices.map((choice) =>
            element('option', { value: choice }, [choice === '' ? 'usual' : choice]),
          ),
          { change: changed },
        );
  inputs.set(field.key, input);
  return element('div', { class: 'field' }, [
    element('label', { for: id }, [field.label]),
    input,
    ...(field.slider === undefined ? [] : [sliderFor(field, input, changed)]),
    element('span', { class: 'hint', id: `${id}-hint` }, [field.hint]),
  ]);
}

const sliders = new Map<string, HTMLInputElement>();

const unitsNow = (): 'mm' | 'inch' => (inputs.get('units')?.value === 'inch' ? 'inch' : 'mm');

/** Moves the field beside it; what that does is said at the top, as it moves. */
function sliderFor(
  { key, label, slider }: Field,
  input: HTMLInputElement | HTMLSelectElement,
  changed: () => void,
): HTMLElement {
  const made = element(
    'input',
    { type: 'range', class: 'slider', 'aria-label': `${label}, by a slider` },
    [],
    {
      input: () => {
        const [, , step, unit] = slider?.[unitsNow()] ?? [0, 0, 1, ''];
        const digits = Math.max(0, -Math.floor(Math.log10(step)));
        input.value = `${Number(made.value).toFixed(digits)} ${unit}`;
        changed();
      },
    },
  );
  sliders.set(key, made);
  return made;
}

/** What a slider moves, as the job was read: mm, or radians. */
const MOVED: Readonly<Record<string, (job: Job, unit: string) => number>> = {
  'punch.relief': ({ punch }) => degFromRad(punch.relief),
  'grinding.roughInfeed': ({ grinding }, unit) => fromMm(grinding.roughInfeed, unit === 'in' ? 'inch' : 'mm'),
};

/** The job as it was read last. */
let seen: Job | 'unread' = 'unread';

/** Sliders stand where the job does, however it is written; while it is unread they stand still. */
function toSliders(): void {
  for (const { key, slider } of FIELDS.flatMap(({ fields }) => fields)) {
    const made = sliders.get(key);
    if (made === undefined || slider === undefined) continue;
    const [from, to, step, unit] = slider[unitsNow()];
    made.disabled = seen === 'unread';
    if (seen === 'unread') continue;
    const value = MOVED[key]?.(seen, unit) ?? from;
    Object.assign(made, { min: `${from}`, max: `${to}`, step: `${step}`, value: `${value}` });
    made.setAttribute('aria-valuetext', `${trimmed(value, 4)} ${unit}`);
  }
}

/** What the text says stands in the fields; while somebody types in one, in the others. */
function toFields(which: 'all' | 'others' = 'others'): void {
  const document = parsed(text.value);
  for (const [key, input] of inputs) {
    input.disabled = document === 'broken';
    if (document === 'broken' || (which === 'others' && input === globalThis.document.activeElement))
      continue;
    const value = valueAt(document, key);
    if (input instanceof HTMLSelectElement && ![...input.options].some((option) => option.value === value))
      input.append(element('option', { value }, [value]));
    input.value = value;
  }
  toSliders();
}

function mark(list: readonly Complaint[]): void {
  for (const [key, input] of inputs) {
    const here = list.filter((each) => each.key === key || each.key.startsWith(`${key}.`));
    const wrong = here.some(({ severity }) => severity === 'error');
    input.setAttribute('aria-invalid', String(wrong));
    const hint = globalThis.document.getElementById(`${input.id}-hint`);
    const field = FIELDS.flatMap(({ fields }) => fields).find((each) => each.key === key);
    if (hint !== null) hint.textContent = here[0]?.sentence ?? field?.hint ?? '';
    hint?.classList.toggle('wrong', wrong);
    hint?.classList.toggle('odd', !wrong && here.length > 0);
  }
}

/** Every complaint, the field that cures it a step away. */
function listed({ severity, key, sentence }: Complaint): HTMLElement {
  const input = [...inputs].find(([each]) => key === each || key.startsWith(`${each}.`))?.[1];
  const name = key === '' ? [] : [element('code', {}, [key]), ' '];
  const go =
    input === undefined
      ? []
      : [
          ' ',
          element('button', { type: 'button', class: 'go' }, ['go there'], { click: () => input.focus() }),
        ];
  return element('li', { class: severity }, [...name, sentence, ...go]);
}

function save(name: string, content: string, type: string): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = element('a', { href: url, download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}

const button = (label: string, does: () => void): HTMLElement =>
  element('button', { type: 'button' }, [label], { click: does });

/** What relief and infeed trade: time, clearance in the head, regrinds. */
function feltWords(plan: Plan): string {
  const { job, totals, workingClearance } = plan;
  const say = sayIn(job.units);
  const { life } = toolOf(job);
  const count = life === 'none' ? 0 : life.rows.length - 1;
  const regrinds = life === 'none' ? '' : `, ${count} ${count === 1 ? 'regrind' : 'regrinds'}`;
  return `${totals.passes} passes, about ${say.time(totals.running)} running; clears the head by ${say.angle(workingClearance)}${regrinds}`;
}

function show(now: Worked): void {
  fill(sooner, []);
  complain(now.complaints);
  const { sheet, programs, plan, dial } = now;
  if (dial !== 'none') {
    showDial(dial);
    return;
  }
  if (sheet === 'none') {
    fill(verdict, [
      element('strong', { class: 'bad' }, ['Not ready.']),
      ' No program is written until the errors are gone.',
    ]);
    // The program that was opened can still be read for the machine alone.
    fill(buttons, [saveJob(), ...(others.length > 0 ? [...readAlone(), ownAgain()] : [])]);
    frame.hidden = true;
    return;
  }
  const refused = sheet.verdict === 'refused';
  const minutes = plan === 'none' ? '' : `${feltWords(plan)}.`;
  fill(verdict, [
    ruling(refused),
    others.length > 0
      ? ` ${namesNow()}, dry-run against this job.`
      : ` The program this job posts${opened.standing === 'none' ? '' : `, going on from ${opened.standing.name}`}, dry-run: ${minutes}`,
  ]);
  // Planned several times over: once the rest is shown.
  if (plan !== 'none' && others.length === 0) setTimeout(() => showSavings(plan), 0);
  const page = sheetPage(sheet, assets);
  showPage(page);
  fill(buttons, [
    // A program that is refused, or was not the one dry-run, is not to be had.
    ...(refused || others.length > 0 ? [] : programs).map(({ name, text: program }) =>
      button(`Save ${name}`, () => save(name, program, 'text/plain')),
    ),
    ...sheetButtons(page),
    ...(others.length > 0 ? [...readAlone(), ownAgain()] : []),
  ]);
}

/** What is said of a dry run first, and loudest. */
const ruling = (refused: boolean, sound: 'Sound on paper.' | 'Read without a job.' = 'Sound on paper.') => {
  const kind = sound === 'Sound on paper.' ? 'good' : 'odd';
  return element('strong', { class: refused ? 'bad' : kind }, [refused ? 'Do not run.' : sound]);
};

/** The programs that were opened, by name. */
const namesNow = (): string => others.map(({ name }) => name).join(', ');

function showPage(page: string): void {
  frame.hidden = false;
  frame.srcdoc = page;
}

function complain(list: readonly Complaint[]): void {
  mark(list);
  fill(complaints, list.map(listed));
}

const saveJob = () => button('Save the job', () => save(`${nameNow()}.yaml`, text.value, 'text/yaml'));

const sheetButtons = (page: string) => [
  saveJob(),
  button('Save the sheet', () => save(`${nameNow()}.html`, page, 'text/html')),
  button('Print the sheet', () => frame.contentWindow?.print()),
];

/** What hand wheels are set to, in place of a program. */
function showDial(dial: DialSheet): void {
  const refused = dial.verdict === 'refused';
  fill(verdict, [
    element('strong', { class: refused ? 'bad' : 'good' }, [refused ? 'Do not grind.' : 'Sound on paper.']),
    ' For hand wheels: what the dials are set to, pass by pass. A program is for a machine with a control.',
  ]);
  fill(sooner, []);
  const page = dialPage(dial, assets);
  showPage(page);
  fill(buttons, sheetButtons(page));
}

/** What would save time, unless the job has been changed meanwhile. */
function showSavings(plan: Plan): void {
  if (worked === 'not yet' || worked.plan !== plan) return;
  const list = findSavings(plan).map((saving) => savingWords(saving, sayIn(plan.job.units)));
  if (list.length === 0) return;
  fill(sooner, [
    element('h2', {}, ['Would save, each by itself']),
    element(
      'ul',
      {},
      list.map((words) => element('li', {}, [words])),
    ),
  ]);
}

const tableOf = ({
  head,
  rows,
}: {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}): HTMLElement =>
  element('table', {}, [
    element('thead', {}, [
      element(
        'tr',
        {},
        head.map((title) => element('th', { scope: 'col' }, [title])),
      ),
    ]),
    element(
      'tbody',
      {},
      rows.map((row) =>
        element(
          'tr',
          {},
          row.map((cell) => element('td', {}, [cell])),
        ),
      ),
    ),
  ]);

/** Labels with what stands beside them; without a label it goes on. */
const listOf = (rows: readonly (readonly [label: string, words: string])[]): HTMLElement =>
  element(
    'dl',
    {},
    rows.flatMap(([label, words]) => [
      ...(label === '' ? [] : [element('dt', {}, [label])]),
      element('dd', {}, [words]),
    ]),
  );

/** What was read, and what to do about it. */
function showReadings(): void {
  if (
    readings.value.trim() === '' ||
    worked === 'not yet' ||
    worked.plan === 'none' ||
    worked.sheet === 'none'
  ) {
    const why =
      readings.value.trim() !== '' && others.length > 0
        ? [element('p', {}, ["Readings are worked with the job's own program: go back to it first."])]
        : [];
    fill(corrected, why);
    return;
  }
  const { report, why, files }: Adjusted = adjusted(
    worked.plan,
    readings.value,
    stage.value as 'roughed' | 'finished' | 'by the readings',
    nameNow(),
  );
  const said = why === '' ? [] : [element('p', { class: 'bad' }, [why])];
  if (report === 'none') {
    fill(corrected, [element('h2', {}, ['Measured and corrected']), ...said]);
    return;
  }
  fill(corrected, [
    element('h2', {}, [report.title]),
    ...said,
    tableOf(report.pairs),
    tableOf(report.flats),
    listOf(report.rows),
    element('p', { class: 'caution' }, [report.caution]),
    element(
      'div',
      { class: 'buttons' },
      files.map(({ name, text: content }) => button(`Save ${name}`, () => save(name, content, 'text/plain'))),
    ),
  ]);
}

const nameNow = (): string =>
  worked === 'not yet' || worked.job === 'unread' ? 'punch' : fileName(worked.job.title);

/** Shows what a fault of ours is, and swallows none. */
function guarded(does: () => void): void {
  try {
    does();
  } catch (error) {
    fill(verdict, [
      element('strong', { class: 'bad' }, ['A fault in Flatwright itself, not in your job: ']),
      error instanceof Error ? error.message : String(error),
    ]);
    fill(buttons, []);
    fill(sooner, []);
    frame.hidden = true;
  }
}

/** More lines than this are dry-run elsewhere, and can be stopped. */
const LONG = 4000;

const linesOf = (programs: readonly SheetProgram[]): number =>
  programs.reduce((sum, { text: content }) => sum + content.split('\n').length, 0);

/** Ends what is done elsewhere for one place of the page, or for all: what it was begun for has changed. */
function stopFar(...places: readonly HTMLElement[]): void {
  for (const [place, each] of running)
    if (places.length === 0 || places.includes(place)) {
      each.stop();
      running.delete(place);
    }
}

/** Works the job through to the sheet. */
function workNow(): void {
  clearTimeout(waiting);
  stopFar();
  guarded(() => {
    const long = linesOf(others) > LONG;
    worked = work(text.value, opened, long ? 'plan' : 'all', others);
    seen = worked.job;
    toFields();
    showOpened();
    const far = long && worked.plan !== 'none' && isPostable(worked.plan) && canHold(worked.plan.job);
    if (far) showFar(worked);
    else {
      if (long) worked = work(text.value, opened, 'all', others);
      show(worked);
    }
    showReadings();
    showErrors('not asked');
  });
  try {
    localStorage.setItem(KEPT, text.value);
  } catch {
    // A page opened from a stick may keep nothing; that costs no more than opening the job again.
  }
}

/** Does a task elsewhere, with how far it is and a way to stop it in `place`. */
function doFar(
  task: Task,
  place: HTMLElement,
  what: string,
  done: (answer: Answer) => void,
  stopped: () => void,
): void {
  stopFar(place);
  const bar = element('progress', { max: '1', value: '0', 'aria-label': what });
  const stop = button('Stop', () => {
    stopFar(place);
    stopped();
  });
  fill(place, [element('p', {}, [what, ' ', bar, ' ', stop])]);
  const ended = (then: () => void): void => {
    running.delete(place);
    guarded(then);
  };
  running.set(
    place,
    begin(task, {
      progress: (share) => {
        bar.value = share;
      },
      answer: (answer) => ended(() => done(answer)),
      fault: (message) =>
        ended(() => {
          throw new Error(message);
        }),
    }),
  );
}

/** A long program: its plan stands, its dry run is awaited. */
function showFar(now: Worked): void {
  complain(now.complaints);
  fill(buttons, [saveJob(), ...readAlone(), ownAgain()]);
  fill(sooner, []);
  frame.hidden = true;
  const names = namesNow();
  doFar(
    { kind: 'dry run', text: text.value, opened, programs: others },
    verdict,
    `${names}, ${linesOf(others)} lines, is being dry-run.`,
    (answer) => {
      if (answer.kind !== 'dry run') return;
      fill(verdict, [ruling(answer.refused), ` ${names}, ${answer.lines} lines, dry-run against this job.`]);
      showPage(answer.page);
      fill(buttons, [...sheetButtons(answer.page), ...readAlone(), ownAgain()]);
    },
    () => {
      fill(verdict, [`Stopped: nothing is said of ${names}.`]);
      fill(buttons, [saveJob(), againstJob(), ...readAlone(), ownAgain()]);
    },
  );
}

const ownAgain = () =>
  button("Back to the job's own program", () => {
    others = [];
    workNow();
  });

/** The machine of the job, read or not. */
const machineNow = (): string =>
  worked !== 'not yet' && worked.job !== 'unread'
    ? worked.job.machineName
    : (inputs.get('machine')?.value ?? '');

/** Without a job: the programs are read for the machine alone, and that is said aloud. */
function showRead(): void {
  stopFar();
  const names = namesNow();
  const machine = machineNow();
  fill(buttons, [saveJob(), againstJob(), ownAgain()]);
  fill(sooner, []);
  fill(complaints, []);
  fill(errors, []);
  fill(corrected, []);
  frame.hidden = true;
  doFar(
    { kind: 'reading', text: text.value, opened, machine, programs: others },
    verdict,
    `${names} is being read for ${machine} alone.`,
    (answer) => {
      if (answer.kind !== 'reading') return;
      fill(verdict, [
        ruling(answer.refused, 'Read without a job.'),
        ` ${names}: ${answer.said}. ${NOT_JUDGED}`,
        listOf(answer.rows),
      ]);
      fill(
        complaints,
        answer.findings.map(({ severity, sentence }) => element('li', { class: severity }, [sentence])),
      );
    },
    () => fill(verdict, [`Stopped: nothing is said of ${names}.`]),
  );
}

const readAlone = (): readonly HTMLElement[] =>
  machineNow() === ''
    ? []
    : [button(`Read it for ${machineNow()} alone, without a job`, () => guarded(showRead))];

const againstJob = () => button('Dry-run it against the job', workNow);

/** A machine with hand wheels follows no program. */
const canHold = ({ machine }: Job): boolean => machine.dials === undefined;

/** What may be off, when asked: many punches are ground in thought. */
function showErrors(how: 'not asked' | { readonly words: ErrorWords }): void {
  const can = worked !== 'not yet' && worked.plan !== 'none' && isPostable(worked.plan);
  if (!can) {
    fill(errors, []);
    return;
  }
  if (how === 'not asked') {
    fill(errors, [
      element('h2', {}, ['What may be off']),
      button(`Grind ${USUAL_PUNCHES} punches in thought`, () =>
        doFar(
          { kind: 'what may be off', text: text.value, opened },
          errors,
          'Punches are ground in thought, each with errors of its own.',
          (answer) => {
            if (answer.kind === 'what may be off') showErrors(answer);
          },
          () => showErrors('not asked'),
        ),
      ),
    ]);
    return;
  }
  const { title, facts, ...rows } = how.words;
  fill(errors, [element('h2', {}, [title]), tableOf(rows), listOf(facts)]);
}

/** The plan and what speaks against it at once, program and sheet when typing pauses. */
function later(): void {
  clearTimeout(waiting);
  guarded(() => {
    const { complaints: list, plan, job } = work(text.value, opened, 'plan');
    seen = job;
    toFields();
    complain(list);
    const wrong = job === 'unread' || list.some(({ severity }) => severity === 'error');
    if (wrong || plan === 'none') return workNow();
    stopFar();
    showErrors('not asked');
    fill(verdict, [`Planned: ${feltWords(plan)}; being dry-run.`]);
    // What was to be saved is of the job before.
    fill(buttons, []);
    fill(sooner, []);
    fill(corrected, []);
    return undefined;
  });
  waiting = setTimeout(workNow, PAUSE);
}

/** Another job: what was read off the one before, and its programs, are not of this one. */
function replaceJob(content: string): void {
  text.value = content;
  readings.value = '';
  others = [];
  opened = {
    ...opened,
    standing: 'none',
    jobs: opened.jobs.filter(({ name }) => speaksOf(content, name)),
  };
  toFields('all');
}

/** A profile of one's own stands in the list, and is the machine of this job. */
function takeProfile(file: OpenedFile): void {
  opened = { ...opened, machines: [...opened.machines.filter(({ name }) => name !== file.name), file] };
  const machines = inputs.get('machine');
  if (
    machines instanceof HTMLSelectElement &&
    ![...machines.options].some(({ value }) => value === file.name)
  )
    machines.append(element('option', { value: file.name }, [file.name]));
  text.value = withValue(text.value, 'machine', file.name);
  toFields('all');
}

/** A job's text speaks of a job of that name. */
const speaksOf = (content: string, name: string): boolean =>
  [...content.matchAll(/\bof:\s*["']?([^\s"',}]+)/g)].some(([, of = '']) => baseName(of) === name);

/** What a file is, seen from its text; the first that fits. */
const KINDS: readonly (readonly [is: (file: OpenedFile) => boolean, takes: (file: OpenedFile) => void])[] = [
  [
    ({ text: content }) => /^\s*"?layout"?\s*:/m.test(content) && /^\s*"?travel"?\s*:/m.test(content),
    takeProfile,
  ],
  [
    ({ text: content }) => /^"?job"?\s*:/m.test(content) && /\bfloors\b/.test(content),
    (file) => {
      opened = { ...opened, standing: file };
    },
  ],
  [
    ({ text: content }) => /^"?(wheels|blanks|holdings)"?\s*:/m.test(content),
    (file) => {
      opened = { ...opened, shop: file };
    },
  ],
  [
    (file) => /^\s*"?punch"?\s*:/m.test(file.text) && speaksOf(text.value, file.name),
    (file) => {
      opened = { ...opened, jobs: [...opened.jobs.filter(({ name }) => name !== file.name), file] };
    },
  ],
  [({ text: content }) => /^\s*"?punch"?\s*:/m.test(content), ({ text: content }) => replaceJob(content)],
];

/** Opened or dropped: the job that no other speaks of first, then what belongs to it, whatever the order they were picked in. */
async function take(files: readonly File[]): Promise<void> {
  const read = await Promise.all(
    files.map(async (file): Promise<OpenedFile> => ({ name: file.name, text: await file.text() })),
  );
  // A shop file speaks of punches too: what fits first counts, and the last two kinds are jobs.
  const isJob = (file: OpenedFile): boolean => KINDS.findIndex(([is]) => is(file)) >= KINDS.length - 2;
  const jobs = read.filter(isJob);
  const [first] = jobs.filter(({ name }) => !jobs.some(({ text: content }) => speaksOf(content, name)));
  const takes = (file: OpenedFile): void => KINDS.find(([is]) => is(file))?.[1](file);
  if (first !== undefined && !speaksOf(text.value, first.name)) replaceJob(first.text);
  else if (first !== undefined) takes(first);
  for (const file of read.filter(
    (each) => each !== first && (!isJob(each) || speaksOf(text.value, each.name)),
  ))
    takes(file);
  const programs = read.filter((file) => !KINDS.some(([is]) => is(file)));
  if (programs.length > 0) others = programs.toSorted((a, b) => a.name.localeCompare(b.name));
  workNow();
}

/** What lies beside the job, and how to take it away again. */
function showOpened(): void {
  const away = (name: string, without: Partial<Opened>): HTMLElement =>
    element('li', {}, [
      name,
      ' ',
      button('take away', () => {
        opened = { ...opened, ...without };
        workNow();
      }),
    ]);
  const { shop, standing, jobs } = opened;
  fill(beside, [
    ...(shop === 'none' ? [] : [away(`${shop.name}: what is in the drawers`, { shop: 'none' })]),
    ...(standing === 'none' ? [] : [away(`${standing.name}: how the punch stands`, { standing: 'none' })]),
    ...jobs.map(({ name }) =>
      away(`${name}: a job this one speaks of`, { jobs: jobs.filter((each) => each.name !== name) }),
    ),
  ]);
}

function kept(): string | undefined {
  try {
    return localStorage.getItem(KEPT) ?? undefined;
  } catch {
    return undefined;
  }
}

function makeWidgets(): void {
  text = element('textarea', {
    id: 'job-text',
    spellcheck: 'false',
    'aria-label': 'The job as text',
    rows: '24',
  });
  verdict = element('div', { class: 'said', role: 'status', 'aria-live': 'polite' });
  complaints = element('ul', { class: 'complaints' });
  frame = element('iframe', { title: 'Set-up sheet and dry run', class: 'sheet' });
  readings = element('textarea', {
    id: 'readings',
    rows: '4',
    spellcheck: 'false',
    'aria-describedby': 'readings-hint',
  });
  stage = element('select', { id: 'stage' }, [
    element('option', { value: 'by the readings' }, ['seen from the readings']),
    element('option', { value: 'roughed' }, ['roughed']),
    element('option', { value: 'finished' }, ['finished']),
  ]);
  corrected = element('section', {
    class: 'corrected',
    'aria-label': 'Measured and corrected',
    'aria-live': 'polite',
  });
  buttons = element('div', { class: 'buttons' });
  beside = element('ul', { class: 'beside', 'aria-label': 'Opened beside the job' });
  errors = element('section', {
    class: 'errors',
    'aria-label': 'What may be off',
    'aria-live': 'polite',
  });
  sooner = element('section', { class: 'sooner', 'aria-label': 'What would save time' });
  opener = element(
    'input',
    { type: 'file', id: 'open', multiple: '', accept: '.yaml,.yml,.json,.nc,.ngc,.tap,.txt' },
    [],
    {
      change: () => {
        // A list of its own: the browser's is emptied with the field.
        void take([...(opener.files ?? [])]);
        opener.value = '';
      },
    },
  );
  samples = element(
    'select',
    { id: 'sample' },
    [
      element('option', { value: '' }, ['begin from a sample']),
      ...Object.keys(SAMPLES).map((name) => element('option', { value: name }, [name])),
    ],
    {
      change: () => {
        const chosen = SAMPLES[samples.value];
        if (chosen !== undefined) replaceJob(chosen);
        samples.value = '';
        workNow();
      },
    },
  );
}

function build(root: HTMLElement): void {
  makeWidgets();
  fill(root, [
    element('div', { class: 'open' }, [
      element('label', { for: 'sample' }, ['Start']),
      samples,
      element('label', { for: 'open' }, [
        'or open a job, a machine profile, a shop file, how a punch stands, or any program to dry-run',
      ]),
      opener,
      beside,
    ]),
    verdict,
    element('main', {}, [
      element(
        'form',
        { class: 'job', 'aria-label': 'The job' },
        [
          ...FIELDS.map(({ title, fields }) =>
            element('fieldset', {}, [element('legend', {}, [title]), ...fields.map(fieldFor)]),
          ),
          element('fieldset', {}, [
            element('legend', {}, ['What you read, still in the holding']),
            element('div', { class: 'field' }, [
              element('label', { for: 'readings' }, ['Readings']),
              readings,
              element('span', { class: 'hint', id: 'readings-hint' }, [
                'one a line, cold: 1-4=5.150 over a pair, 1=6.85 to a corner, 1-4@5=4.63 behind the face, indicator 1=+0.012',
              ]),
            ]),
            element('div', { class: 'field' }, [element('label', { for: 'stage' }, ['It is']), stage]),
          ]),
          element('fieldset', {}, [element('legend', {}, ['The job as text, every key of it']), text]),
        ],
        { submit: (event) => event.preventDefault() },
      ),
      element('section', { class: 'result', 'aria-label': 'What it comes to' }, [
        buttons,
        sooner,
        complaints,
        corrected,
        errors,
        frame,
      ]),
    ]),
  ]);
  text.addEventListener('input', later);
  readings.addEventListener('input', () => guarded(showReadings));
  stage.addEventListener('change', () => guarded(showReadings));
  root.addEventListener('dragover', (event) => event.preventDefault());
  root.addEventListener('drop', (event) => {
    event.preventDefault();
    void take([...(event.dataTransfer?.files ?? [])]);
  });
  text.value = kept() ?? SAMPLES['stem-bolt-hex-5'] ?? '';
  workNow();
}

/** The page begins. */
export function start(): void {
  const root = document.getElementById('page');
  if (root !== null) build(root);
}
