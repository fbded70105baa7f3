/**
 * The sheet as one HTML page: two printed pages, and under them on the screen the dry run. Everything is inline
 * and nothing is fetched; whatever somebody typed arrives as text.
 */

import { markIn } from '../job/fingerprint.js';
import type { Plan } from '../plan/plan.js';
import { drawBlock } from './draw/block.js';
import { drawPasses } from './draw/passes.js';
import { drawSection } from './draw/section.js';
import { drawSide } from './draw/side.js';
import { drawSlope } from './draw/slope.js';
import { drawTouch } from './draw/touch.js';
import type { BlockSheet } from './hand/block.js';
import type { DialSheet } from './hand/sheet.js';
import { asIs, html, lines, type Markup, NOTHING } from './html.js';
import { capital, type Part, type Picture, type TableData } from './model.js';
import { playData } from './play.js';
import { findingLines, programWords, type Sheet } from './sheet.js';

/** Style and player, as shipped in shared/sheet. */
export interface PageAssets {
  readonly css: string;
  readonly player: string;
}

/** What draws a part's picture. */
type Draw = (picture: Picture) => Markup;

const PLAN_DRAWINGS: Readonly<Record<Picture, (plan: Plan) => Markup>> = {
  section: drawSection,
  side: drawSide,
  slope: drawSlope,
  touch: drawTouch,
  passes: drawPasses,
  block: () => NOTHING,
};

const drawPlan =
  (plan: Plan): Draw =>
  (picture) =>
    PLAN_DRAWINGS[picture](plan);

const drawOfBlock =
  ({ design, job }: BlockSheet): Draw =>
  () =>
    drawBlock(design, job.units);

const listHtml = (texts: readonly string[]): Markup =>
  texts.length === 0 ? NOTHING : html`<ul>${texts.map((text) => html`<li>${text}</li>`)}</ul>`;

/** A number keeps its unit beside it. */
const SHORT = 14;
const shortMark = (cell: string): Markup =>
  cell.length <= SHORT && cell.includes(' ') ? html` class="short"` : NOTHING;

function tableHtml({ head, rows, pen = [] }: TableData): Markup {
  const titles = [...head, ...pen].map((title) => html`<th scope="col">${title}</th>`);
  const cells = (row: readonly string[]): Markup =>
    html`${row.map((cell, i) => (i === 0 ? html`<th scope="row"${shortMark(cell)}>${cell}</th>` : html`<td${shortMark(cell)}>${cell}</td>`))}${pen.map(() => html`<td class="pen"></td>`)}`;
  const body = rows.map((row) => html`<tr>${cells(row)}</tr>`);
  return html`<table><thead><tr>${titles}</tr></thead><tbody>${body}</tbody></table>`;
}

/** Room for what was found, in the line of what it should be. */
const foundHtml = (pen: string): Markup => html` <span class="found">${pen} <span></span></span>`;

function partHtml(part: Part, number: number, draw: Draw): Markup {
  const { id, heading, picture, facts, tables, notes } = part;
  const list = facts.map(
    ({ label, value, big, pen }) =>
      html`<div${big === true ? html` class="big"` : NOTHING}><dt>${label}</dt><dd>${value}${pen === undefined ? NOTHING : foundHtml(pen)}</dd></div>`,
  );
  return lines([
    html`<section id="${id}" aria-labelledby="${id}-title">`,
    html`<h2 id="${id}-title"><span class="number">${number}</span> ${heading}</h2>`,
    picture === undefined ? NOTHING : html`<figure>${draw(picture)}</figure>`,
    list.length === 0 ? NOTHING : html`<dl>${list}</dl>`,
    ...tables.map(tableHtml),
    listHtml(notes),
    html`</section>`,
  ]);
}

function verdictHtml(sheet: Sheet): Markup {
  const { verdict, playback, pins, programs, posted } = sheet;
  const names = programs.map(({ name }) => name).join(', ');
  const errors = pins.filter(({ severity }) => severity === 'error');
  const said =
    verdict === 'run'
      ? html`<strong>Sound on paper.</strong> ${posted ? capital(programWords(sheet)) : programWords(sheet)}, dry-run without an error.`
      : html`<strong>Do not run.</strong> ${names} is refused: ${errors.length} ${errors.length === 1 ? 'error' : 'errors'}.`;
  const whose = posted
    ? NOTHING
    : html`<p>The program is not the plan's: wheel, passes and times below are the plan's, the dry run is the program's.</p>`;
  const all = findingLines(sheet);
  // Where nothing can be played this list is the only place.
  const shown = playback.steps.length === 0 ? all.length : MOST_SHOWN;
  const rest =
    all.length > shown
      ? html`<p>and ${all.length - shown} more, on the timeline of the dry run</p>`
      : NOTHING;
  return html`<div class="verdict ${verdict}" role="status"><p>${said}</p>${whose}${listHtml(all.slice(0, shown))}${rest}</div>`;
}

/** More findings than this push the set-up off the first page. */
const MOST_SHOWN = 4;

/** JSON inside a script element: no end tag, no comment can come out of it. */
const scriptJson = (value: object): Markup => asIs(JSON.stringify(value).replaceAll('<', '\\u003c'));

function dryRunHtml(sheet: Sheet): Markup {
  const { playback, programs, pins, plan } = sheet;
  const last = Math.max(0, playback.steps.length - 1);
  return html`<section id="dry-run" class="screen" aria-labelledby="dry-run-title">
<h2 id="dry-run-title">The dry run</h2>
<p class="hint">Space plays and pauses, arrow keys step by block, Home and End jump. The material goes away as the checker worked it out. Below the slider: which flat is up, and a bar where the program stops for your hands. The clock leaves out what hands take.</p>
<noscript><p>The dry run needs script. The sheet above does not.</p></noscript>
<div class="player" hidden>
<div class="views"><figure><svg id="side-view" role="img" aria-label="Side view in the plane of the slope"></svg><figcaption>Side, in the plane of the slope</figcaption></figure>
<figure><svg id="end-view" role="img" aria-label="End view seen from the tip"></svg><figcaption>From the tip</figcaption></figure></div>
<div class="controls">
<button type="button" id="to-start">To the start</button>
<button type="button" id="back">Back</button>
<button type="button" id="play">Play</button>
<button type="button" id="forward">Forward</button>
<button type="button" id="to-end">To the end</button>
<label>Blocks a second <select id="pace"><option>2</option><option selected>10</option><option>50</option><option>250</option></select></label>
</div>
<div class="timeline"><input type="range" id="scrubber" min="0" max="${last}" value="0" step="1" aria-label="Block of the dry run"><div id="bands" aria-hidden="true"></div><div id="pins"></div></div>
<p id="now" role="status"></p>
<div class="lower"><table id="numbers"><caption>The flats at this block, ${plan.job.units === 'inch' ? 'in' : 'mm'} from the axis at the front edge</caption><thead><tr><th scope="col">flat</th><th scope="col">at deg</th><th scope="col">now</th><th scope="col">ordered</th></tr></thead><tbody></tbody></table>
<div id="listing" tabindex="0" role="region" aria-label="Program text"><div id="mark"></div><pre></pre></div></div>
</div>
</section>
<script type="application/json" id="dry-run-data">${scriptJson(playData(playback, programs, pins, plan.job))}</script>`;
}

/** What stands on a page. */
interface PageContent {
  readonly title: string;
  /** What kind of page it is, and what is said with it. */
  readonly kind: string;
  readonly never: string;
  /** Of the program it goes with; empty where there is none, or several. */
  readonly mark: string;
  readonly draw: Draw;
  readonly verdict: Markup;
  readonly parts: readonly Part[];
  readonly css: string;
  /** What follows the printed parts, and its script. */
  readonly below?: { readonly content: Markup; readonly script: string };
}

/** @returns the whole page, with style and player inside it. */
export const sheetPage = (sheet: Sheet, { css, player }: PageAssets): string =>
  wholePage({
    ...ofPlan(sheet.plan),
    kind: 'set-up sheet',
    mark: markWords(sheet),
    verdict: verdictHtml(sheet),
    parts: sheet.parts,
    css,
    below: { content: dryRunHtml(sheet), script: player },
  });

/** @returns the page of a machine without a control: all of it is printed, nothing plays. */
export function dialPage(
  { dial, verdict, findings, parts }: DialSheet,
  { css }: Pick<PageAssets, 'css'>,
): string {
  const said =
    verdict === 'run'
      ? html`<strong>Sound on paper.</strong> These passes, dry-run as a program would be, leave the punch ordered.`
      : html`<strong>Do not grind.</strong> Dry-run as a program would be, these passes are refused.`;
  return wholePage({
    ...ofPlan(dial.plan),
    kind: 'sheet for hand wheels',
    mark: '',
    verdict: html`<div class="verdict ${verdict}" role="status"><p>${said}</p>${listHtml(findings)}</div>`,
    parts,
    css,
  });
}

/** @returns the page of an indexing block, to make it by. */
export const blockPage = (sheet: BlockSheet, { css }: Pick<PageAssets, 'css'>): string =>
  wholePage({
    title: sheet.job.title,
    kind: 'an indexing block',
    mark: '',
    never: 'Drawn to scale, tip end to the right.',
    draw: drawOfBlock(sheet),
    verdict: NOTHING,
    parts: sheet.parts,
    css,
  });

/** The drawing alone, as a file of its own. */
export const blockPicture = ({ design, job }: BlockSheet): string =>
  `${drawBlock(design, job.units).text.replace('<svg ', '<svg xmlns="http://www.w3.org/2000/svg" ').replace('>', `>${BLOCK_STYLE}`)}\n`;

/** The classes of the drawing, where no page styles them. */
const BLOCK_STYLE =
  '<style>polygon,line,circle{stroke:#111;stroke-width:.25;fill:none}.metal{fill:#ddd}.dashed{stroke-dasharray:1.5 1}.axis{stroke-dasharray:4 1 1 1}text{font-family:sans-serif}</style>';

/** `program hex.nc, mark 16EE-6A27`: the sheet holds for no other. */
function markWords({ programs, posted }: Sheet): string {
  const [program] = programs;
  if (program === undefined || programs.length > 1 || !posted) return '';
  const found = markIn(program.text);
  return found === undefined ? '' : `${program.name}, mark ${found}`;
}

const ofPlan = (plan: Plan): Pick<PageContent, 'title' | 'never' | 'draw'> => ({
  title: plan.job.title,
  never: `Never over ${Math.floor(plan.job.wheel.ratedSpeed)} rev/min with this wheel.`,
  draw: drawPlan(plan),
});

/** Text as a string of CSS: nothing in it ends the string, or the style it stands in. */
const cssString = (text: string): string =>
  `"${text.replace(/[^\p{L}\p{N} .,:;+()/-]/gu, (found) => `\\${found.codePointAt(0)?.toString(16) ?? ''} `)}"`;

/** On every printed page: which sheet it is, of which program, which page of how many, and room for a name and a date. */
const marginBoxes = (title: string, mark: string): string => `@media print {
  @page {
    @top-right { content: "date ______________  by ______________"; font-size: 8pt; }
    @bottom-left { content: ${cssString(title)}; font-size: 8pt; }
    @bottom-center { content: ${cssString(mark)}; font-size: 8pt; }
    @bottom-right { content: "page " counter(page) " of " counter(pages); font-size: 8pt; }
  }
}`;

function wholePage({ title, kind, never, mark, draw, verdict, parts, css, below }: PageContent): string {
  const [first, ...rest] = parts;
  const numbered = rest.map((part, i) => partHtml(part, i + 1, draw));
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title} - ${kind}</title>
<style>
${asIs(css)}
${asIs(marginBoxes(title, mark))}
</style>
</head>
<body>
<main>
<header>
<h1>${title}</h1>
<p class="sub">${capital(kind)}. ${never}</p>
</header>
${verdict}
${first === undefined ? NOTHING : cautionHtml(first)}
<div class="parts">
${lines(numbered)}
</div>
${below?.content ?? NOTHING}
</main>
${
  below === undefined
    ? NOTHING
    : html`<script>
${asIs(below.script)}
</script>
`
}</body>
</html>
`.text;
}

const cautionHtml = ({
  heading,
  notes,
}: Part): Markup => html`<section id="caution" aria-labelledby="caution-title">
<h2 id="caution-title">${heading}</h2>
${listHtml(notes)}
</section>`;
