import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { linesOf } from '../../src/check/read/lines.js';
import { createTracer } from '../../src/check/read/trace.js';
import { fromMachine, layouts } from '../../src/job/layout.js';
import { planJob } from '../../src/plan/plan.js';
import { plainText, wrap } from '../../src/post/comment.js';
import { postProgram, postSplit } from '../../src/post/program.js';
import { FLAT_WITHIN } from '../../src/quantity/tolerance.js';
import { mm } from '../../src/quantity/unit.js';
import { randomJob } from '../arbitrary/job.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';

const HEX = 'stem-bolt-hex-5';
const text = (name: string, ...exchanges: readonly (readonly [string, string])[]): string =>
  postProgram(planJob(sampleJob(name, ...exchanges))).text;

describe('text that a job brings in', () => {
  test.each([
    ['hex (5)', 'HEX 5'],
    ['a)\nM3 S9999 (', 'A M3 S9999'],
    ['Größe Ø 5', 'GROSSE O 5'],
    ['5 mm; M30', '5 MM M30'],
    ['tab\tand\u0007bell', 'TAB AND BELL'],
    ['日本', ''],
    ['%#[]*$', ''],
  ])('%j becomes %j', (typed, plain) => expect(plainText(typed)).toBe(plain));

  test('no title leaves its comment, opens an INDEX line, or speaks to the control', () => {
    const said = fc.oneof(
      fc.string({ minLength: 1, maxLength: 200 }),
      fc.constantFrom(
        'INDEX TO 60 DEG - FLAT 2 OF 6',
        ') M3 S9000 (',
        'MSG,HELLO',
        'x\nM30\n',
        'a\rG0 X0',
        '; M30',
      ),
      fc.constant(`${'long word '.repeat(6)}INDEX TO 60 DEG - FLAT 2 OF 6`),
    );
    const clean = text(HEX);
    fc.assert(
      fc.property(said, (title) => {
        const job = sampleJob(HEX, ['title: stem-bolt hex 5', `title: ${JSON.stringify(title)}`]);
        const posted = postProgram(planJob(job)).text;
        // The mark of the text differs with it.
        const [ours, theirs] = [linesOf(clean).slice(2), linesOf(posted).slice(2)];
        expect(theirs).toEqual(ours);
        expect(linesOf(posted)[0]).toMatch(/^\(JOB:[A-Z0-9 .,+\-/=:]*\)$/);
      }),
      { seed: 12, numRuns: 60 },
    );
  });

  test('lines break at spaces, numbers stay with their units, nothing is lost', () => {
    const pieces = wrap(
      'SPEED: 4000 REV/MIN AND A WHEEL OF 75.000\u00a0MM THAT IS MARKED WITH 5100 REV/MIN',
      30,
    );
    for (const piece of pieces) expect(piece.length).toBeLessThanOrEqual(30);
    expect(pieces.some((piece) => piece.includes('75.000 MM'))).toBe(true);
    expect(pieces.map((piece, i) => (i === 0 ? piece : piece.slice(2))).join(' ')).toContain(
      'MARKED WITH 5100 REV/MIN',
    );
  });
});

describe.each(sampleNames)('program of %s', (name) => {
  const { machine } = sampleJob(name);
  const programs = samplePrograms(name);

  test('7-bit text, no block longer than the control reads, one line end', () => {
    for (const { text: posted } of programs) {
      expect(posted).toMatch(/^[\x20-\x7e\n]*\n$/);
      for (const line of linesOf(posted))
        expect(line.length).toBeLessThanOrEqual(machine.program.longestBlock);
    }
  });

  test('one modal group a block, and never a speed above wheel or machine', () => {
    const job = sampleJob(name);
    for (const line of programs.flatMap(({ text: posted }) => linesOf(posted))) {
      if (/^[(;%O]/.test(line)) continue;
      const codes = line.match(/[GM]\d+(\.\d)?/g) ?? [];
      // G53 is for its own block alone and goes with a motion.
      expect(codes.filter((code) => code !== 'G53').length, line).toBeLessThanOrEqual(1);
      const speed = Number(/S(\d+)/.exec(line)?.[1] ?? 0);
      expect(speed).toBeLessThanOrEqual(Math.min(job.wheel.ratedSpeed, machine.spindle.max));
    }
  });

  test('carries the cautions, the wheel, the zero and the slope', () => {
    for (const [i, { text: posted }] of programs.entries()) {
      for (const word of [
        'WHEEL CAN BURST',
        sampleJob(name).figures.abrasive === 'cubic boron nitride' ? 'FOR CRACKS' : 'RING-TEST',
        'GUARD ON',
        'EYES PROTECTED',
        'COASTED DOWN',
        'STAND CLEAR',
      ]) {
        expect(posted).toContain(word);
      }
      // The number of the raw top is only for the first of a set: afterwards it would send the wheel deep.
      const zero = i === 0 ? 'FIRST SPARK' : 'TOUCH GROUND FLATS ONLY';
      for (const word of ['RATED', 'WORK ZERO', 'SLOPE:', zero, 'LOCAL RULES'])
        expect(posted).toContain(word);
      expect(posted.includes('FIRST SPARK')).toBe(i === 0);
    }
  });
});

describe('a stop for hands', () => {
  const lines = linesOf(text('bearing-cap-square-8')).map((line) => line.replace(/^N\d+ /, ''));
  const stops = lines.flatMap((line, i) => (line === 'M0' ? [i] : []));

  test("comes out of the hands' way, coolant off and spun dry, spindle off, the coast-down and an INDEX comment", () => {
    expect(stops.length).toBe(8);
    for (const stop of stops.slice(1)) {
      const before = lines.slice(lines.lastIndexOf('M5', stop) - 4, stop);
      const place = (line: RegExp): number => before.findLastIndex((each) => line.test(each));
      expect(before.slice(0, 6)).toEqual(['G0 Z31.325', 'G0 Z84.000', 'M9', 'G4 P15.0', 'M5', 'G4 P22.0']);
      expect(place(/^\(HANDS IN ONLY WHEN THE WHEEL STANDS/)).toBeGreaterThan(place(/^G4/));
      expect(place(/^\(INDEX TO/)).toBeGreaterThan(place(/^\(HANDS IN ONLY/));
    }
  });

  test('the measuring stop is one with the index after it, and says which flat is up', () => {
    const measure = lines.findIndex((line) => line.startsWith('(MEASURING STOP'));
    const stop = lines.indexOf('M0', measure);
    expect(lines.slice(measure, stop)).toContain('(UP NOW: FLAT 4)');
    expect(lines.slice(measure, stop).some((line) => line.startsWith('(INDEX TO 0 DEG'))).toBe(true);
  });

  test('then: modes, a pause, up, across, and only then speed, wheel, its spin-up, coolant, position, feed', () => {
    const modes = ['G17', 'G21', 'G40', 'G49', 'G80', 'G90', 'G94', 'G54'];
    const again = [
      ...modes,
      'G4 P3.0',
      'G0 Z84.000',
      'G0 X53.209 Y0.000',
      'S3000',
      'M3',
      'G4 P6.0',
      'M8',
      'G0 Z31.325',
    ];
    for (const stop of stops) {
      expect(lines.slice(stop + 1, stop + 1 + again.length)).toEqual(again);
      const first = lines.slice(stop + 1 + again.length).find((line) => line.startsWith('G1')) ?? '';
      expect(first).toMatch(/^G1 X\S+ Y\S+ Z\S+ F1200\.0$/);
    }
  });

  test('a spindle with its own switch: the program stops for off, for the hand, for on, and never says M3', () => {
    const byHand = sampleJob('bearing-cap-square-8');
    const machine = {
      ...byHand.machine,
      spindle: { ...byHand.machine.spindle, switched: 'by hand' as const },
    };
    const posted = postProgram(planJob({ ...byHand, machine })).text;
    expect(posted).not.toMatch(/\b(M3|M5|S3000)\b/);
    expect(posted.match(/SWITCH THE WHEEL OFF/g)?.length).toBe(8);
    expect(posted.match(/SWITCH THE WHEEL ON/g)?.length).toBe(8);
    expect(checkPrograms([{ name: 'p.nc', text: posted }], { ...byHand, machine }).findings).toEqual([]);
  });

  test('a spindle with its own switch and an axis that waits for it go together in no program', () => {
    const job = sampleJob('crank-bolt-hex-8');
    const machine = { ...job.machine, spindle: { ...job.machine.spindle, switched: 'by hand' as const } };
    const codes = planJob({ ...job, machine }).findings.map(({ code }) => code);
    expect(codes).toContain('axis-needs-switch');
    const rotary = { ...machine.rotary, mayTurnWithSpindle: true } as typeof machine.rotary;
    expect(
      planJob({ ...job, machine: { ...machine, rotary } }).findings.map(({ code }) => code),
    ).not.toContain('axis-needs-switch');
  });
});

describe('play in the infeed axis of a tilted head', () => {
  const job = sampleJob('crank-bolt-hex-8');
  const withPlay = (play: number): string =>
    postProgram(planJob({ ...job, machine: { ...job.machine, play: mm(play) } })).text;

  const STEPS = 200;
  /** Lowest the rim runs over each flat, the slide moving only once its screw has crossed the play. */
  function ground(program: string, play: number): ReadonlyMap<string, number> {
    const t = job.punch.relief;
    let [x, z, slide, index, cutting] = [0, 0, 0, '', false];
    const least = new Map<string, number>();
    for (const line of linesOf(program)) {
      index = /INDEX TO (\S+) DEG/.exec(line)?.[1] ?? index;
      if (line.startsWith('(')) cutting = /^\((ROUGH|FINISH|SPARK OUT) FLAT/.test(line);
      const [, X, Z] = /G[01](?: X(\S+))?(?: Y\S+)?(?: Z(\S+))?/.exec(line) ?? [];
      if (X === undefined && Z === undefined) continue;
      const [fromX, fromZ] = [x, z];
      [x, z] = [Number(X ?? x), Number(Z ?? z)];
      for (let k = 1; k <= STEPS; k += 1) {
        const told = fromZ + ((z - fromZ) * k) / STEPS;
        slide = Math.min(Math.max(slide, told - play), told);
        const w = slide * Math.cos(t) - (fromX + ((x - fromX) * k) / STEPS) * Math.sin(t);
        // Over the metal only.
        if (cutting && fromX + ((x - fromX) * k) / STEPS < 39)
          least.set(index, Math.min(least.get(index) ?? Number.POSITIVE_INFINITY, w));
      }
    }
    return least;
  }

  test.each([0.01, 0.02, 0.1])(
    'a slide that hangs %s mm low grinds no deeper than one without play',
    (play) => {
      const [tight, hanging] = [ground(withPlay(play), 0), ground(withPlay(play), play)];
      expect(tight.size).toBe(6);
      for (const [index, w] of tight) expect(hanging.get(index)).toBeCloseTo(w, 6);
      // Without the lift it would.
      const deeper = ground(withPlay(0), play);
      for (const [index, w] of tight)
        expect(deeper.get(index)).toBeCloseTo(w - play * Math.cos(job.punch.relief), 3);
    },
  );

  test('the lifted program is good, and a level stroke is not lifted', () => {
    const machine = { ...job.machine, play: mm(0.1) };
    const report = checkPrograms([{ name: 'p.nc', text: withPlay(0.1) }], { ...job, machine });
    expect(report.findings).toEqual([]);
    const level = sampleJob(HEX);
    expect(postProgram(planJob({ ...level, machine: { ...level.machine, play: mm(0.1) } })).text).toBe(
      postProgram(planJob(level)).text,
    );
  });
});

describe('dialects', () => {
  test('an inch program: G70, dwell in milliseconds, five decimals, rotary words none', () => {
    const posted = text('seat-clamp-hex-quarter-inch');
    expect(posted).toMatch(/^%\nO0042\n/);
    expect(posted).toMatch(/\nN\d+ G70\n/);
    expect(posted).toMatch(/\nN\d+ G4 P17000\n/);
    expect(posted).toMatch(/Z0\.\d{5} F\d/);
    expect(posted.endsWith('%\n')).toBe(true);
  });

  test('rotary words are degrees in an inch program too', () => {
    const inch = sampleJob(HEX);
    const machine = {
      ...inch.machine,
      units: 'inch' as const,
      program: { ...inch.machine.program, decimals: 5 },
    };
    expect(postProgram(planJob({ ...inch, machine })).text).toMatch(/\nG0 A300\.000\n/);
  });

  test('the small control: semicolon comments, M2, no code it does not know', () => {
    const [first] = postSplit(planJob(sampleJob('valve-cap-triangle')));
    expect(first?.text).toMatch(
      /^; PROGRAM 01 OF 06 - ROUGH FLAT 1 - FIRST\n; INDEX TO 0 DEG - FLAT 1 OF 3\n; SET: BLOCK SIDE 1 UP\n/,
    );
    const blocks = linesOf(first?.text ?? '').filter((line) => !line.startsWith(';'));
    expect(blocks.join(' ')).not.toMatch(/G40|G49|G80|M30|M0\b|\(/);
    expect(first?.text.endsWith('M2\n')).toBe(true);
  });

  test('the clamped axis: freed, turned, clamped, and only with the wheel at rest', () => {
    const lines = linesOf(text('crank-bolt-hex-8')).map((line) => line.replace(/^N\d+ /, ''));
    const turns = lines.flatMap((line, i) => (line === 'M11' ? [i] : []));
    expect(turns.length).toBe(12);
    for (const [i, turn] of turns.entries()) {
      // Before the first, and after the measuring stop, the wheel has not run.
      const since = lines.slice(lines.lastIndexOf('M0', turn) + 1, turn);
      if (i === 0 || i === 6) expect(since).not.toContain('M3');
      else expect(lines.slice(turn - 4, turn).join(' ')).toMatch(/M5 G4 P10\.0/);
      const end = lines.indexOf('M10', turn);
      expect(lines.slice(turn + 1, end).every((line) => /^G0 A/.test(line))).toBe(true);
      expect(lines.slice(end + 1, end + 3)).toEqual(['G4 P0.5', 'S4200']);
    }
  });

  test('the lathe writes X as a diameter and no Y', () => {
    const posted = text('pedal-pin-pentagon-lathe');
    expect(posted).not.toMatch(/\bY/);
    const plan = planJob(sampleJob('pedal-pin-pentagon-lathe'));
    expect(posted).toContain(`X${(2 * plan.positions.clear).toFixed(3)}`);
  });
});

test('block numbers stay within five digits and wrap', () => {
  const job = sampleJob('bearing-cap-square-8');
  const machine = {
    ...job.machine,
    program: {
      ...job.machine.program,
      blockNumbers: { start: 9_900, step: 10, most: 9_999, on: 'every block' as const },
    },
  };
  const numbers = [...postProgram(planJob({ ...job, machine })).text.matchAll(/^N(\d+)/gm)].map((match) =>
    Number(match[1]),
  );
  expect(Math.max(...numbers)).toBe(9_990);
  expect(numbers.filter((number) => number === 9_900).length).toBeGreaterThan(100);
});

test('reading back what was posted gives the planned strokes, within half the last digit', () => {
  fc.assert(
    fc.property(randomJob, ({ job, text: shown }) => {
      const plan = planJob(job);
      const tracer = createTracer(job.machine);
      const rows = linesOf(postProgram(plan).text).flatMap((line) => tracer.line(line));
      expect(tracer.refused()).toBe(false);
      const ends = rows
        .filter((row) => row.motion === 'feed')
        .map(({ x = 0, y = 0, z = 0 }) => fromMachine(layouts[job.machine.layout], plan.slope, { x, y, z }));
      const passes = plan.steps.flatMap((step) => (step.kind === 'pass' ? [step] : []));
      let from = 0;
      for (const { pass } of passes) {
        const found = ends.findIndex(
          ({ u, w }, i) =>
            i >= from && Math.abs(u - pass.end) <= FLAT_WITHIN && Math.abs(w - pass.w) <= FLAT_WITHIN,
        );
        expect(found, shown).toBeGreaterThanOrEqual(from);
        from = found + 1;
      }
    }),
    { seed: 13, numRuns: 200, endOnFailure: true },
  );
});

test('where blocks must be short the feed takes one of its own', () => {
  const job = sampleJob('bearing-cap-square-8');
  const program = { ...job.machine.program, longestBlock: 42, decimals: 5 };
  const posted = postProgram(planJob({ ...job, machine: { ...job.machine, program } })).text;
  expect(posted).toMatch(/\nN\d+ F1200\.0\nN\d+ G1 X\S+ Y\S+ Z\S+\n/);
  for (const line of linesOf(posted)) expect(line.length).toBeLessThanOrEqual(42);
});

test('a plan with errors is not posted', () => {
  expect(() => text(HEX, ['relief: 2.5 deg', 'relief: 1 deg'])).toThrow(RangeError);
  expect(() => postSplit(planJob(sampleJob(HEX, ['relief: 2.5 deg', 'relief: 1 deg'])))).toThrow(RangeError);
});
