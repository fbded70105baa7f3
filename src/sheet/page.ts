/**
 * The sheet as one HTML page: two printed pages, and under them on the screen the dry run. Everything is inline
 * and nothing is fetched; whatever somebody typed arrives as text.
 */
import { drawPasses } from './draw/passes.js';
import { drawSection } from './draw/section.js';
import { drawSide } from './draw/side.js';
import { escaped } from './draw/svg.js';
import type { Part, Picture, TableData } from './model.js';
import { playData } from './play.js';
import { findingLines, type Sheet } from './sheet.js';

/** Style and player, as shipped in shared/sheet. */
export interface PageAssets {
  readonly css: string;
  readonly player: string;
}

const DRAW: Record<Picture, (sheet: Sheet) => string> = {
  section: ({ plan }) => drawSection(plan),
  side: ({ plan }) => drawSide(plan),
  passes: ({ plan }) => drawPasses(plan),
};

function tableHtml({ head, rows, pen = [] }: TableData): string {
  const titles = [
    ...head.map((title) => `<th scope="col">${escaped(title)}</th>`),
    ...pen.map((title) => `<th scope="col">${escaped(title)}</th>`),
  ];
  const cells = (row: readonly string[]): string =>
    [
      ...row.map((cell, i) =>
        i === 0 ? `<th scope="row">${escaped(cell)}</th>` : `<td>${escaped(cell)}</td>`,
      ),
      ...pen.map(() => '<td class="pen"></td>'),
    ].join('');
  return `<table><thead><tr>${titles.join('')}</tr></thead><tbody>${rows.map((row) => `<tr>${cells(row)}</tr>`).join('')}</tbody></table>`;
}

function partHtml(part: Part, number: number, sheet: Sheet): string {
  const { id, heading, picture, facts, tables, notes } = part;
  const list = facts.map(
    ({ label, value, big }) =>
      `<div${big === true ? ' class="big"' : ''}><dt>${escaped(label)}</dt><dd>${escaped(value)}</dd></div>`,
  );
  return [
    `<section id="${id}" aria-labelledby="${id}-title">`,
    `<h2 id="${id}-title"><span class="number">${number}</span> ${escaped(heading)}</h2>`,
    picture === undefined ? '' : `<figure>${DRAW[picture](sheet)}</figure>`,
    list.length === 0 ? '' : `<dl>${list.join('')}</dl>`,
    ...tables.map(tableHtml),
    notes.length === 0 ? '' : `<ul>${notes.map((note) => `<li>${escaped(note)}</li>`).join('')}</ul>`,
    '</section>',
  ].join('\n');
}

function verdictHtml(sheet: Sheet): string {
  const { verdict, playback, pins, programs, posted } = sheet;
  const names = programs.map(({ name }) => name).join(', ');
  const errors = pins.filter(({ severity }) => severity === 'error');
  const said =
    verdict === 'run'
      ? `<strong>Sound on paper.</strong> ${escaped(names)}, ${playback.report.lines} lines, dry-run without an error.`
      : `<strong>Do not run.</strong> ${escaped(names)} is refused: ${errors.length} ${errors.length === 1 ? 'error' : 'errors'}.`;
  const whose = posted
    ? ''
    : "<p>The program is not the plan's: wheel, passes and times below are the plan's, the dry run is the program's.</p>";
  const all = findingLines(sheet);
  // Where nothing can be played this list is the only place.
  const shown = playback.steps.length === 0 ? all.length : MOST_SHOWN;
  const list =
    all.length === 0
      ? ''
      : `<ul>${all
          .slice(0, shown)
          .map((text) => `<li>${escaped(text)}</li>`)
          .join('')}</ul>`;
  const rest =
    all.length > shown ? `<p>and ${all.length - shown} more, on the timeline of the dry run</p>` : '';
  return `<div class="verdict ${verdict}" role="status"><p>${said}</p>${whose}${list}${rest}</div>`;
}

/** More findings than this push the sheet off its two pages. */
const MOST_SHOWN = 4;

/** JSON inside a script element: no end tag, no comment can come out of it. */
const scriptJson = (value: object): string => JSON.stringify(value).replaceAll('<', '\\u003c');

function dryRunHtml(sheet: Sheet): string {
  const { playback, programs, pins, plan } = sheet;
  const last = Math.max(0, playback.steps.length - 1);
  return `<section id="dry-run" class="screen" aria-labelledby="dry-run-title">
<h2 id="dry-run-title">The dry run</h2>
<p class="hint">Space plays and pauses, arrow keys step by block, Home and End jump. The material goes away as the checker worked it out.</p>
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
<div class="timeline"><input type="range" id="scrubber" min="0" max="${last}" value="0" step="1" aria-label="Block of the dry run"><div id="pins"></div></div>
<p id="now" role="status"></p>
<div class="lower"><table id="numbers"><caption>The flats at this block, ${plan.job.units === 'inch' ? 'in' : 'mm'} from the axis at the front edge</caption><thead><tr><th scope="col">flat</th><th scope="col">at deg</th><th scope="col">now</th><th scope="col">ordered</th></tr></thead><tbody></tbody></table>
<div id="listing" tabindex="0" role="region" aria-label="Program text"><div id="mark"></div><pre></pre></div></div>
</div>
</section>
<script type="application/json" id="dry-run-data">${scriptJson(playData(playback, programs, pins, plan.job))}</script>`;
}

/** @returns the whole page, with style and player inside it. */
export function sheetPage(sheet: Sheet, { css, player }: PageAssets): string {
  const [first, ...rest] = sheet.parts;
  const numbered = rest.map((part, i) => partHtml(part, i + 1, sheet));
  const caution = first === undefined ? '' : cautionHtml(first);
  const wheelMarked = sheet.plan.job.wheel.ratedSpeed;
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(sheet.title)} - set-up sheet</title>
<style>
${css}
</style>
</head>
<body>
<main>
<header>
<h1>${escaped(sheet.title)}</h1>
<p class="sub">Set-up sheet. Never over ${Math.floor(wheelMarked)} rev/min with this wheel.</p>
</header>
${verdictHtml(sheet)}
${caution}
<div class="parts">
${numbered.join('\n')}
</div>
${dryRunHtml(sheet)}
</main>
<script>
${player}
</script>
</body>
</html>
`;
}

function cautionHtml({ heading, notes }: Part): string {
  return `<section id="caution" aria-labelledby="caution-title">
<h2 id="caution-title">${escaped(heading)}</h2>
<ul>${notes.map((note) => `<li>${escaped(note)}</li>`).join('')}</ul>
</section>`;
}
