/**
 * A second opinion on a program, made only for the mutation test: its own word splitting, its own state, and
 * the stock as a row of columns along the centre line of each flat, sampled, not solved. It shares nothing
 * with src/check. It knows strokes in the X-Z plane: a mill with the tool along +X, sloped by the fixture or
 * by the head, and a lathe with X as a diameter.
 *
 * Hands may be given: they put every axis somewhere clear at the start and at every stop, as people do.
 */
import type { Job } from '../../src/job/job.js';

/** Where the axes stand, as a program counts them. */
export interface Place {
  readonly X: number;
  readonly Y: number;
  readonly Z: number;
  readonly A: number;
}

/** A point of the programmed X-Z plane as (u, w): along the flat toward the tip, and out of it. */
type ToWheel = (X: number, Z: number) => { readonly u: number; readonly w: number };

function toWheelOf({ machine, holding, punch }: Job): ToWheel {
  const counts = machine.layout === 'lathe, X as diameter' ? 2 : 1;
  if (holding.slope.by === 'fixture') return (X, Z) => ({ u: X / counts, w: Z });
  const [cos, sin] = [Math.cos(punch.relief), Math.sin(punch.relief)];
  return (X, Z) => ({ u: X * cos + Z * sin, w: Z * cos - X * sin });
}

/** What it holds against a program; empty if nothing it can see would hurt. */
export function judge(text: string, job: Job, hands?: () => Place): readonly string[] {
  const harm: string[] = [];
  const t = job.punch.relief;
  const { diameter, ratedSpeed } = job.wheel;
  const { machine, grinding, holding } = job;
  const blankRadius = job.blank.size / 2;
  const step = 0.02;
  const [least, most] = [-job.blank.stickOut, blankRadius * Math.sin(t)];
  const columns = Math.ceil((most - least) / step);
  const topAt = (u: number): number => blankRadius / Math.cos(t) - u * Math.tan(t);
  const stocks = new Map<string, Float64Array>();
  const fresh = (): Float64Array => Float64Array.from({ length: columns }, (_, i) => topAt(least + i * step));
  const byHand = holding.index === 'by hand';
  const toWheel = toWheelOf(job);
  const at: Record<string, number | undefined> = { ...hands?.() };
  let [unit, speed, feed, wheelOn, waited, motion, ended, coolant, wayRight] = [
    0,
    0,
    0,
    false,
    0,
    '',
    false,
    false,
    true,
  ];
  let index: string | undefined;
  let everOn = false;
  let pending: string | undefined;
  let absolute: boolean | undefined;
  const nose = {
    u: -job.blank.stickOut * Math.cos(t) + holding.nose.halfHeight * Math.sin(t),
    w: job.blank.stickOut * Math.sin(t) + holding.nose.halfHeight * Math.cos(t),
  };
  // Before anything has moved the wheel stands where the start check wants it.
  const clearNow = (): boolean => {
    if (Object.keys(at).length === 0) return true;
    if (at['X'] === undefined) return false;
    const { u, w } = toWheel(at['X'], at['Z'] ?? 0);
    return u - diameter / 2 >= most || w >= topAt(Math.max(least, u - diameter / 2));
  };

  const move = (from: { X: number; Z: number }, to: { X: number; Z: number }, rapid: boolean): void => {
    const stock = stocks.get(index ?? 'none') ?? fresh();
    stocks.set(index ?? 'none', stock);
    // Level with the flat or straight up and down, the two ends take all that the way between them takes.
    const [a, b] = [toWheel(from.X, from.Z), toWheel(to.X, to.Z)];
    const plain = Math.min(Math.abs(a.u - b.u), Math.abs(a.w - b.w)) < 1e-9;
    const count = plain ? 1 : Math.max(1, Math.ceil(Math.hypot(a.u - b.u, a.w - b.w) / 0.1));
    let [deepest, touched] = [0, false];
    for (let k = 0; k <= count; k += 1) {
      const [u, w] = [a.u + ((b.u - a.u) * k) / count, a.w + ((b.w - a.w) * k) / count];
      const reach = u - diameter / 2;
      if (reach < nose.u && w < nose.w) harm.push('wheel in the nose');
      // Above the highest stock there is nothing to look at.
      if (w > topAt(least)) continue;
      for (let i = Math.max(0, Math.ceil((reach - least) / step)); i < columns; i += 1) {
        const height = stock[i] ?? 0;
        if (height > w - 1e-6) touched = true;
        if (height > w) {
          deepest = Math.max(deepest, height - w);
          stock[i] = w;
        }
      }
    }
    if (!touched) return;
    if (Math.abs(at['Y'] ?? 0) > 0.1) harm.push('a cut beside the axis');
    if (index === undefined) harm.push('a cut before any index');
    if (!wheelOn || waited < machine.spindle.spinUp - 0.01) harm.push('a cut without the wheel at speed');
    if (!wayRight) harm.push('wheel turns backward');
    if (grinding.coolant !== 'none' && !coolant) harm.push('a cut without coolant');
    if (rapid && deepest > 0.003) harm.push('rapid in stock');
    if (deepest > grinding.roughInfeed + 0.003) harm.push(`bite of ${deepest}`);
    // A stroke out that takes nothing may run faster.
    const out = b.u > a.u && deepest < 0.001;
    const most = out ? grinding.returnSpeed : grinding.strokeSpeed;
    if (!rapid && feed > most * 1.01) harm.push('too fast a stroke');
  };

  for (const raw of text.split('\n')) {
    if (ended) break;
    const comment = /\((.*)\)|;(.*)/.exec(raw)?.slice(1).join('') ?? '';
    const said = /^INDEX TO (\S+) DEG - FLAT (\d+)/.exec(comment);
    if (said !== null && byHand) {
      pending = said[1] ?? '';
      const wanted = ((job.punch.section[Number(said[2]) - 1]?.at ?? Number.NaN) * 180) / Math.PI;
      if (Math.abs(wanted - Number(pending)) > 0.01) harm.push('index and flat disagree');
    }
    const body = raw
      .replace(/\(.*?\)|;.*/g, '')
      .replace(/^\s*[O%].*/, '')
      .toUpperCase();
    const words = [...body.matchAll(/([A-Z])\s*([+-]?\d*\.?\d*)/g)].map((m): [string, string] => [
      m[1] ?? '',
      m[2] ?? '',
    ]);
    if (words.some(([, number]) => !/\d/.test(number)) || /[^A-Z\d.+\-\s]/.test(body)) {
      harm.push('a word without a number');
      continue;
    }
    const value = (letter: string): number | undefined => {
      const found = words.find(([l]) => l === letter);
      return found === undefined ? undefined : Number(found[1]);
    };
    const codes = words.filter(([l]) => l === 'G' || l === 'M').map(([l, n]) => `${l}${Number(n)}`);
    const has = (code: string): boolean => codes.includes(code);
    const motions = codes.filter((code) => /^G[01]$/.test(code));
    if (motions.length > 1) harm.push('two motions in a block');
    if (has('G20')) unit = 25.4;
    if (has('G21')) unit = 1;
    if (has('G90')) absolute = true;
    if (has('G91')) absolute = false;
    for (const code of codes) {
      if (
        !/^(G0|G1|G4|G17|G18|G20|G21|G40|G49|G53|G54|G61|G80|G90|G91|G94|G97|M0|M2|M3|M4|M5|M7|M8|M9|M10|M11|M30)$/.test(
          code,
        )
      )
        harm.push(`unknown ${code}`);
    }
    const s = value('S');
    if (s !== undefined) speed = s;
    if (speed > ratedSpeed || speed > machine.spindle.max) harm.push('over speed');
    const f = value('F');
    if (f !== undefined && !has('G4')) feed = f * unit;
    if (has('M3') || has('M4')) {
      [wheelOn, waited, everOn] = [true, 0, true];
      wayRight = has('M3');
      if (speed < machine.spindle.min) harm.push('started without a speed');
    }
    if (has('M5')) [wheelOn, waited] = [false, 0];
    if (has('M8') || has('M7')) coolant = true;
    if (has('M9')) coolant = false;
    if (has('G4')) waited += value('P') ?? 0;
    if (has('G80')) motion = '';
    if (motions[0] !== undefined) motion = motions[0];
    const axes = (['X', 'Y', 'Z', 'A'] as const).filter((letter) => value(letter) !== undefined);
    if (axes.length > 0 && !has('G4')) {
      if (motion === '' || unit === 0 || absolute === undefined)
        harm.push('a move before motion, units or distance');
      if (motion === 'G1' && feed === 0) harm.push('a feed move without feed');
      const before = { ...at };
      for (const letter of axes) {
        const said = (value(letter) ?? 0) * (letter === 'A' ? 1 : unit);
        const ofMachine =
          has('G53') && letter !== 'A' ? (machine.workZero?.[letter.toLowerCase() as 'x'] ?? 0) : 0;
        const target = said - ofMachine;
        at[letter] = absolute === false ? (at[letter] ?? 0) + target : target;
        const zero = letter === 'A' ? undefined : machine.workZero?.[letter.toLowerCase() as 'x'];
        const limits = letter === 'A' ? undefined : machine.travel[letter.toLowerCase() as 'x'];
        const there = (at[letter] ?? 0) + (zero ?? 0);
        if (zero !== undefined && limits !== undefined && (there < limits[0] || there > limits[1]))
          harm.push('out of travel');
      }
      if (axes.includes('A') && !byHand) {
        if (!clearNow()) harm.push('index over the work');
        index = String((((at['A'] ?? 0) % 360) + 360) % 360);
      }
      const known = (place: typeof at): place is { X: number; Z: number } =>
        place['X'] !== undefined && place['Z'] !== undefined;
      // A rapid may take its axes one after the other, in either order: both ways count.
      if (known(before) && known(at)) {
        if (motion === 'G0' && before.X !== at.X && before.Z !== at.Z) {
          for (const corner of [
            { X: at.X, Z: before.Z },
            { X: before.X, Z: at.Z },
          ]) {
            move(before, corner, true);
            move(corner, at, true);
          }
        } else move(before, at, motion === 'G0');
      } else if (motion === 'G1') harm.push('a feed move from nowhere');
    }
    if (has('M0')) {
      if (wheelOn) harm.push('a stop with the wheel turning');
      else if (everOn && waited < machine.spindle.coastDown - 0.01)
        harm.push('a stop before the wheel has coasted down');
      if (!clearNow()) harm.push('a stop over the work');
      if (hands !== undefined) {
        Object.assign(at, hands());
        // Nobody knows how the axis stands.
        if (!byHand) index = undefined;
      }
      if (pending !== undefined) [index, pending] = [String(Number(pending)), undefined];
    }
    if (has('M2') || has('M30')) {
      ended = true;
      if (wheelOn) harm.push('an end with the wheel turning');
      if (!clearNow()) harm.push('an end over the work');
    }
  }
  if (!ended) harm.push('no end');
  for (const { at: angle, distance } of job.punch.section) {
    const degrees = (angle * 180) / Math.PI;
    const stock = [...stocks].find(([key]) => Math.abs(Number(key) - degrees) < 0.01)?.[1];
    const near = stock?.[columns - Math.ceil(job.punch.flatLength / 2 / step)] ?? blankRadius;
    const far =
      stock?.[
        Math.floor((-job.punch.flatLength / Math.cos(t) + distance * Math.sin(t) - least) / step) + 1
      ] ?? blankRadius;
    for (const w of [near, far]) {
      const size = 2 * (w / Math.cos(t) - distance);
      if (size > job.punch.tolerance.plus + 0.004 || size < -job.punch.tolerance.minus - 0.004)
        harm.push(`flat at ${degrees} out of size`);
    }
  }
  return [...new Set(harm)];
}
