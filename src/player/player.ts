/**
 * Plays the dry run on the sheet: what stands where at each step is worked out in player/stock, this file draws it and
 * listens to the keys. Runs on the page alone; bundled into shared/sheet/player.js.
 */
import { mm, rad } from '../quantity/unit.js';
import { blankSupport, circumradius } from '../section/blank.js';
import type { CrossPoint } from '../section/flat.js';
import { outlinePoints } from '../section/outline.js';
import { toPartFrame, toWheelFrame } from '../wheel/frame.js';
import { lowestArc } from '../wheel/periphery.js';
import { type PlayData, type PlayPin, STEP_KINDS } from './data.js';
import { type PlanePoint, type PlayStock, playStock } from './stock.js';

/** Shank shown behind the nose, mm. */
const SHANK_SHOWN = 8;
/** Stretches a plain wheel's curve is drawn in. */
const ARC_PARTS = 24;

type Point = readonly [x: number, y: number];

const find = <Found extends HTMLElement>(id: string): Found => {
  const found = document.getElementById(id);
  if (found === null) throw new Error(`the page lacks #${id}`);
  return found as Found;
};

function add(to: Element, name: string, attributes: Readonly<Record<string, string>>): SVGElement {
  const element = document.createElementNS('http://www.w3.org/2000/svg', name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  to.append(element);
  return element;
}

const list = (points: readonly Point[]): string =>
  points.map(([x, y]) => `${x.toFixed(3)},${y.toFixed(3)}`).join(' ');

/** Both views, drawn anew for each step. */
function createViews(data: PlayData, stock: PlayStock): (step: number, bad: boolean) => void {
  const { steps, indexes, wheel: form, blank, stickOut, nose } = data;
  const slope = rad(data.slope);
  const radius = circumradius(blank);
  const shank = stickOut + SHANK_SHOWN;
  /** Paper from the wheel frame; with a tilted head the punch lies level. */
  const paper = ({ u, w }: PlanePoint): Point => {
    if (!data.level) return [u, -w];
    const { x, z } = toPartFrame({ u, v: 0, w }, slope);
    return [x, -z];
  };
  const part = (x: number, z: number): Point => paper(toWheelFrame({ x, y: 0, z }, slope));

  const side = find('side-view');
  const half = Math.max(nose, radius) + 3;
  const [left, right] = [-shank - 2, Math.max(16, stickOut * 0.7)];
  side.setAttribute('viewBox', `${left} ${-half - 6} ${right - left} ${2 * half + 9}`);
  const noses = [1, -1].map((sign) => ({ sign, shape: add(side, 'polygon', { class: 'solid' }) }));
  const punch = add(side, 'polygon', { class: 'metal' });
  add(side, 'polyline', { class: 'axis', points: list([part(-shank, 0), part(right, 0)]) });
  const wheel = add(side, 'polyline', { class: 'bold' });

  const end = find('end-view');
  const room = radius * 1.5;
  end.setAttribute('viewBox', `${-room} ${-room} ${2 * room} ${2 * room}`);
  const whole = add(end, 'polygon', { class: 'dashed' });
  const section = add(end, 'polygon', { class: 'metal' });
  const rim = add(end, 'line', { class: 'bold', x1: `${-room}`, x2: `${room}` });
  const outline = outlinePoints([], blank);
  /** Turned so that what is at `angle` is up; seen from the tip y runs to the right. */
  const turned =
    (angle: number) =>
    ({ y, z }: CrossPoint): Point => [
      y * Math.cos(angle) + z * Math.sin(angle),
      y * Math.sin(angle) - z * Math.cos(angle),
    ];
  /** The lowest stretch of a plain wheel, as high as stands free. */
  const arc = (u: number, w: number): readonly Point[] =>
    lowestArc(mm(form.periphery), form.height, ARC_PARTS).map(([x, lift]) =>
      paper({ u: u + x, w: w + lift }),
    );
  const cup = (u: number, w: number): readonly Point[] =>
    [
      [u + form.radius, w + form.height],
      [u - form.radius, w + form.height],
      [u - form.radius, w],
      [u - form.radius + form.rim, w],
      [u - form.radius + form.rim, w + form.height * 0.7],
      [u + form.radius - form.rim, w + form.height * 0.7],
      [u + form.radius - form.rim, w],
      [u + form.radius, w],
      [u + form.radius, w + form.height],
    ].map(([atU = 0, atW = 0]) => paper({ u: atU, w: atW }));

  return (step, bad) => {
    const [, , , u = null, w = null, index] = steps[step] ?? [];
    const up = index ?? 0;
    const at = indexes[up]?.at ?? 0;
    for (const { sign, shape } of noses) {
      const inner = blankSupport(blank, rad(at + (sign > 0 ? 0 : Math.PI)));
      const corners: readonly Point[] = [
        part(-stickOut, sign * inner),
        part(-stickOut, sign * nose),
        part(-shank, sign * nose),
        part(-shank, sign * inner),
      ];
      shape.setAttribute('points', list(corners));
    }
    punch.setAttribute('points', list(stock.profile(up, step, shank).map(paper)));
    const turn = turned(at);
    whole.setAttribute('points', list(outline.map(turn)));
    section.setAttribute('points', list(stock.section(step).map(turn)));
    for (const shape of [wheel, rim]) shape.setAttribute('class', bad ? 'offence' : 'bold');
    // A wheel that has not been told where to stand is drawn nowhere.
    const known = u !== null && w !== null;
    wheel.setAttribute('points', known ? list((form.periphery > 0 ? arc : cup)(u / 1000, w / 1000)) : '');
    const level = known ? -(w / 1000) / Math.cos(slope) : room;
    const overWork = known && u / 1000 - form.radius < blankSupport(blank, rad(at)) * Math.sin(slope);
    rim.setAttribute('visibility', overWork && Math.abs(level) < room ? 'visible' : 'hidden');
    for (const key of ['y1', 'y2']) rim.setAttribute(key, `${level}`);
  };
}

/** One row for each index that is ever ground: its distance as it shrinks. */
function createNumbers(data: PlayData, stock: PlayStock): (step: number) => void {
  const { indexes, ordered, perMm, decimals } = data;
  const show = (length: number): string => (length * perMm).toFixed(decimals);
  const body = find<HTMLTableElement>('numbers').tBodies[0];
  const cells = indexes
    .map(({ flat, deg }, index) => ({ flat, deg, index }))
    .filter(({ index }) => stock.isGround(index))
    .toSorted((a, b) => (a.flat || indexes.length) - (b.flat || indexes.length))
    .flatMap(({ flat, deg, index }) => {
      const row = body?.insertRow();
      if (row === undefined) return [];
      const name = document.createElement('th');
      name.scope = 'row';
      name.textContent = flat > 0 ? `${flat}` : 'extra';
      row.append(name);
      row.insertCell().textContent = deg;
      const now = row.insertCell();
      row.insertCell().textContent = flat > 0 ? show(ordered[flat - 1] ?? 0) : '-';
      return [{ index, now }];
    });
  return (step) => {
    for (const { index, now } of cells) {
      const reached = stock.distance(index, step);
      now.textContent = reached === 'none' ? 'not yet' : show(reached);
    }
  };
}

/** Findings of one step share a pin on the timeline. */
function createPins(data: PlayData, jump: (step: number) => void): ReadonlyMap<number, readonly PlayPin[]> {
  const byStep = new Map<number, PlayPin[]>();
  for (const pin of data.pins) byStep.set(pin.step, [...(byStep.get(pin.step) ?? []), pin]);
  for (const [step, found] of [...byStep].toSorted(([a], [b]) => a - b)) {
    const bad = found.some(({ severity }) => severity === 'error');
    const button = document.createElement('button');
    button.type = 'button';
    button.className = bad ? 'error' : 'warning';
    button.textContent = `${bad ? '!' : '?'}${found.length > 1 ? found.length : ''}`;
    button.style.left = `${(100 * step) / Math.max(1, data.steps.length - 1)}%`;
    const line = found[0]?.line ?? 0;
    const said = found.map(({ sentence }) => sentence).join('; ');
    button.setAttribute('aria-label', `${line === 0 ? 'The whole program' : `Line ${line}`}: ${said}`);
    button.title = said;
    button.addEventListener('click', () => jump(step));
    find('pins').append(button);
  }
  return byStep;
}

/** `11:02`. */
const clockText = (seconds: number): string =>
  `${Math.floor(seconds / 60)}:${`${seconds % 60}`.padStart(2, '0')}`;

/** Where a row says which way is up, and how late it is. */
const INDEX = 5;
const CLOCK = 6;

/** More turns of the punch than this are no bands but a blur. */
const MOST_BANDS = 60;
/** A narrower band has no room for its number, share of the timeline. */
const LABELLED = 0.05;

/** Which flat is up along the timeline, and where the program stops for hands; the words below say it too. */
function drawBands({ steps, indexes }: PlayData): void {
  const bands = find('bands');
  const last = Math.max(1, steps.length - 1);
  const share = (step: number): string => `${(100 * step) / last}%`;
  const mark = (name: string, from: number, title: string): HTMLElement => {
    const element = document.createElement('span');
    element.className = name;
    element.style.left = share(from);
    element.title = title;
    bands.append(element);
    return element;
  };
  const starts = steps.flatMap((step, i) => (i === 0 || step[INDEX] !== steps[i - 1]?.[INDEX] ? [i] : []));
  if (starts.length <= MOST_BANDS)
    starts.forEach((from, i) => {
      const to = starts[i + 1] ?? last;
      const { flat = 0, deg = '' } = indexes[steps[from]?.[INDEX] ?? 0] ?? {};
      const band = mark('band', from, flat > 0 ? `flat ${flat} up` : `${deg} deg up`);
      band.style.width = share(to - from);
      if (flat > 0 && to - from >= LABELLED * last) band.textContent = `${flat}`;
    });
  steps.forEach(([, , kind], i) => {
    if (STEP_KINDS[(kind ?? 0) % STEP_KINDS.length] === 'stop')
      mark('halt', i, 'the program stops for your hands');
  });
}

/** What the step does, in words: block, what it is, and every finding that stands there. */
function wordsOf(data: PlayData, step: number, pins: readonly PlayPin[]): string {
  const [program, line, kind, u, w, index, clock] = data.steps[step] ?? [];
  const whole = data.steps.at(-1)?.[CLOCK] ?? 0;
  const source = data.programs[program ?? 0];
  const block = (source?.text.split('\n')[(line ?? 1) - 1] ?? '').trim();
  const { flat = 0, deg = '' } = data.indexes[index ?? 0] ?? {};
  const show = (micro: number): string => ((micro / 1000) * data.perMm).toFixed(data.decimals);
  const known = typeof u === 'number' && typeof w === 'number';
  const place = known ? `wheel centre ${show(u)}, rim ${show(w)} ${data.unit}` : 'place not said yet';
  const [does, running] = [
    STEP_KINDS[(kind ?? 0) % STEP_KINDS.length],
    (kind ?? 0) >= STEP_KINDS.length ? 'wheel running' : 'wheel off',
  ];
  return [
    `Block ${step + 1} of ${data.steps.length}, at ${clockText(clock ?? 0)} of ${clockText(whole)}, ${source?.name ?? ''} line ${line ?? 0}: ${block}`,
    `${does}; ${flat > 0 ? `flat ${flat} up` : `${deg} deg up`}; ${running}; ${place}`,
    ...pins.map(({ severity, sentence }) => `${severity === 'error' ? 'ERROR' : 'Warning'}: ${sentence}`),
  ].join('\n');
}

/** Runs through the steps at a pace; less motion wanted means two blocks a second at most. */
function createClock(
  at: () => number,
  last: number,
  go: (step: number) => void,
  changed: (on: boolean) => void,
) {
  const calm = window.matchMedia('(prefers-reduced-motion: reduce)');
  const pace = find<HTMLSelectElement>('pace');
  let timer = 0;
  let [started, from] = [0, 0];
  const pause = (): void => {
    cancelAnimationFrame(timer);
    timer = 0;
    changed(false);
  };
  const tick = (time: number): void => {
    const perSecond = calm.matches ? Math.min(2, Number(pace.value)) : Number(pace.value);
    if (started === 0) started = time;
    const to = from + Math.floor(((time - started) * perSecond) / 1000);
    if (to !== at()) go(to);
    if (at() >= last) pause();
    else timer = requestAnimationFrame(tick);
  };
  const restart = (): void => {
    from = at();
    started = 0;
  };
  pace.addEventListener('change', restart);
  return {
    pause,
    toggle: (): void => {
      if (timer !== 0) {
        pause();
        return;
      }
      if (at() >= last) go(0);
      restart();
      changed(true);
      timer = requestAnimationFrame(tick);
    },
  };
}

function start(data: PlayData): void {
  const last = data.steps.length - 1;
  const scrubber = find<HTMLInputElement>('scrubber');
  const listing = find('listing');
  const text = listing.querySelector('pre');
  const [now, mark, playButton] = [find('now'), find('mark'), find('play')];
  const stock = playStock(data);
  const draw = createViews(data, stock);
  const numbers = createNumbers(data, stock);
  let at = 0;
  let shown: number | undefined;

  const go = (to: number): void => {
    at = Math.max(0, Math.min(last, to));
    const [program, line] = data.steps[at] ?? [];
    const found = pins.get(at) ?? [];
    draw(
      at,
      found.some(({ severity }) => severity === 'error'),
    );
    numbers(at);
    if (text !== null && typeof program === 'number' && program !== shown) {
      shown = program;
      text.textContent = data.programs[program]?.text ?? '';
    }
    // The mark is as high as a line.
    const top = ((line ?? 1) - 1) * mark.offsetHeight;
    mark.style.top = `${top}px`;
    listing.scrollTop = top - listing.clientHeight / 2;
    scrubber.value = `${at}`;
    const said = wordsOf(data, at, found);
    scrubber.setAttribute('aria-valuetext', said.split('\n')[0] ?? '');
    now.textContent = said;
  };
  const clock = createClock(
    () => at,
    last,
    go,
    (on) => {
      playButton.textContent = on ? 'Pause' : 'Play';
      // While it runs nobody wants every block read out.
      now.setAttribute('aria-live', on ? 'off' : 'polite');
    },
  );
  const jump = (to: number): void => {
    clock.pause();
    go(to);
  };
  const pins = createPins(data, jump);
  drawBands(data);

  playButton.addEventListener('click', clock.toggle);
  find('back').addEventListener('click', () => jump(at - 1));
  find('forward').addEventListener('click', () => jump(at + 1));
  find('to-start').addEventListener('click', () => jump(0));
  find('to-end').addEventListener('click', () => jump(last));
  scrubber.addEventListener('input', () => jump(Number(scrubber.value)));
  listenToKeys({
    ArrowLeft: () => jump(at - 1),
    ArrowRight: () => jump(at + 1),
    Home: () => jump(0),
    End: () => jump(last),
    ' ': clock.toggle,
  });
  go(data.pins.find(({ severity }) => severity === 'error')?.step ?? 0);
}

/** Keys work wherever the focus is while the player can be seen; lists keep theirs, buttons keep space. */
function listenToKeys(keys: Readonly<Record<string, () => void>>): void {
  const player = find('dry-run');
  const inSight = (): boolean => {
    const { top, bottom } = player.getBoundingClientRect();
    return top < window.innerHeight && bottom > 0;
  };
  document.addEventListener('keydown', (event) => {
    const key = keys[event.key];
    const target = event.target instanceof Element ? event.target : document.body;
    const own = target.closest('select, textarea, #listing') !== null;
    const pressed = event.key === ' ' && target.closest('button, summary, a') !== null;
    if (key === undefined || own || pressed || event.ctrlKey || event.metaKey || event.altKey) return;
    if (!player.contains(target) && !inSight()) return;
    event.preventDefault();
    key();
  });
}

const holder = document.getElementById('dry-run-data');
const player = document.querySelector<HTMLElement>('.player');
if (holder !== null && player !== null) {
  const data = JSON.parse(holder.textContent ?? '') as PlayData;
  if (data.steps.length > 0) {
    player.hidden = false;
    start(data);
  }
}
