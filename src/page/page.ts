/**
 * The page: the job on the left, as fields and as text; on the right what it comes to, live: verdict, drawings, sheet,
 * dry run. Nothing leaves the browser. The sheet stands in a frame of its own, as it is saved and printed.
 */
import type { Plan } from '../plan/plan.js';
import { findSavings } from '../plan/savings.js';
import { sayIn } from '../quantity/say.js';
import type { DialSheet } from '../sheet/hand/sheet.js';
import { dialPage, sheetPage } from '../sheet/page.js';
import type { SheetProgram } from '../sheet/parts/index-table.js';
import { savingWords } from '../wording/saving.js';
import { element, fill } from './dom.js';
import { type Field, fieldsFor, parsed, valueAt, withValue } from './fields.js';
import { type Adjusted, adjusted } from './readings.js';
import { assets, MACHINES, SAMPLES, textsWith } from './shipped.js';
import { type Complaint, fileName, type Worked, work } from './work.js';

/** Where the last job is kept for the next time; nothing else is. */
const KEPT = 'flatwright.job';
/** Typing pauses this long before the program is posted and dry-run, ms. */
const PAUSE = 300;

const FIELDS = fieldsFor(Object.keys(MACHINES));
const own = new Map<string, string>();
let others: readonly SheetProgram[] = [];
let worked: Worked | 'not yet' = 'not yet';
let waiting: ReturnType<typeof setTimeout> | undefined;

const text = element('textarea', {
  id: 'job-text',
  spellcheck: 'false',
  'aria-label': 'The job as text',
  rows: '24',
});
const verdict = element('div', { class: 'said', role: 'status', 'aria-live': 'polite' });
const complaints = element('ul', { class: 'complaints' });
const frame = element('iframe', { title: 'Set-up sheet and dry run', class: 'sheet' });
const readings = element('textarea', {
  id: 'readings',
  rows: '4',
  spellcheck: 'false',
  'aria-describedby': 'readings-hint',
});
const stage = element('select', { id: 'stage' }, [
  element('option', { value: 'by the readings' }, ['seen from the readings']),
  element('option', { value: 'roughed' }, ['roughed']),
  element('option', { value: 'finished' }, ['finished']),
]);
const corrected = element('section', {
  class: 'corrected',
  'aria-label': 'Measured and corrected',
  'aria-live': 'polite',
});
const buttons = element('div', { class: 'buttons' });
const sooner = element('section', { class: 'sooner', 'aria-label': 'What would save time' });
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
    element('span', { class: 'hint', id: `${id}-hint` }, [field.hint]),
  ]);
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

function show(now: Worked): void {
  mark(now.complaints);
  fill(complaints, now.complaints.map(listed));
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
    fill(buttons, [saveJob()]);
    frame.hidden = true;
    return;
  }
  const refused = sheet.verdict === 'refused';
  const minutes =
    plan === 'none'
      ? ''
      : `about ${sayIn(plan.job.units).time(plan.totals.running)} running, ${plan.totals.passes} passes.`;
  fill(verdict, [
    element('strong', { class: refused ? 'bad' : 'good' }, [refused ? 'Do not run.' : 'Sound on paper.']),
    others.length > 0
      ? ` ${others.map(({ name }) => name).join(', ')}, dry-run against this job.`
      : ` The program this job posts, dry-run: ${minutes}`,
  ]);
  // Planned several times over: once the rest is shown.
  fill(sooner, []);
  if (plan !== 'none' && others.length === 0) setTimeout(() => showSavings(plan), 0);
  const page = sheetPage(sheet, assets);
  frame.hidden = false;
  frame.srcdoc = page;
  fill(buttons, [
    // A program that is refused, or was not the one dry-run, is not to be had.
    ...(refused || others.length > 0 ? [] : programs).map(({ name, text: program }) =>
      button(`Save ${name}`, () => save(name, program, 'text/plain')),
    ),
    ...sheetButtons(page),
    ...(others.length > 0
      ? [
          button("Back to the job's own program", () => {
            others = [];
            workNow();
          }),
        ]
      : []),
  ]);
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
  frame.hidden = false;
  frame.srcdoc = page;
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

/** What was read, and what to do about it. */
function showReadings(): void {
  if (
    readings.value.trim() === '' ||
    worked === 'not yet' ||
    worked.plan === 'none' ||
    worked.sheet === 'none'
  ) {
    fill(corrected, []);
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
    element(
      'dl',
      {},
      report.rows.flatMap(([label, words]) => [
        ...(label === '' ? [] : [element('dt', {}, [label])]),
        element('dd', {}, [words]),
      ]),
    ),
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
    frame.hidden = true;
  }
}

/** Works the job through to the sheet. */
function workNow(): void {
  clearTimeout(waiting);
  guarded(() => {
    worked = work(text.value, textsWith(own), 'all', others);
    toFields();
    show(worked);
    showReadings();
  });
  try {
    localStorage.setItem(KEPT, text.value);
  } catch {
    // A page opened from a stick may keep nothing; that costs no more than opening the job again.
  }
}

/** The plan and what speaks against it at once, program and sheet when typing pauses. */
function later(): void {
  clearTimeout(waiting);
  guarded(() => {
    const { complaints: list, plan, job } = work(text.value, textsWith(own), 'plan');
    toFields();
    mark(list);
    fill(complaints, list.map(listed));
    const wrong = job === 'unread' || list.some(({ severity }) => severity === 'error');
    if (wrong || plan === 'none') return workNow();
    fill(verdict, [`Planned: ${plan.totals.passes} passes; being dry-run.`]);
    // What was to be saved is of the job before.
    fill(buttons, []);
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
  toFields('all');
}

/** A profile of one's own stands in the list, and is the machine of this job. */
function takeProfile(name: string, content: string): void {
  own.set(name, content);
  const machines = inputs.get('machine');
  if (machines instanceof HTMLSelectElement && ![...machines.options].some(({ value }) => value === name))
    machines.append(element('option', { value: name }, [name]));
  text.value = withValue(text.value, 'machine', name);
  toFields('all');
}

/** Opened or dropped: what it is is seen from its text. */
async function take(files: readonly File[]): Promise<void> {
  const programs: SheetProgram[] = [];
  for (const file of files) {
    const content = await file.text();
    if (/^\s*"?layout"?\s*:/m.test(content) && /^\s*"?travel"?\s*:/m.test(content))
      takeProfile(file.name, content);
    else if (/^\s*"?punch"?\s*:/m.test(content)) replaceJob(content);
    else programs.push({ name: file.name, text: content });
  }
  if (programs.length > 0) others = programs.toSorted((a, b) => a.name.localeCompare(b.name));
  workNow();
}

function kept(): string | undefined {
  try {
    return localStorage.getItem(KEPT) ?? undefined;
  } catch {
    return undefined;
  }
}

const opener = element(
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
const samples = element(
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

function build(root: HTMLElement): void {
  fill(root, [
    element('div', { class: 'open' }, [
      element('label', { for: 'sample' }, ['Start']),
      samples,
      element('label', { for: 'open' }, ['or open a job, a machine profile, or any program to dry-run']),
      opener,
    ]),
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
        verdict,
        buttons,
        sooner,
        complaints,
        corrected,
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

const root = document.getElementById('page');
if (root !== null) build(root);
