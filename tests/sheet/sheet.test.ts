/**
 * Sources: simple indexing, US Navy NAVEDTRA 14345 and US Army OD1644 (6 -> 6 2/3 turns, 12 on 18); the spin index's
 * ten-degree holes and vernier (forum article); sine-bar and wedge arithmetic, derived beside each check.
 */
import { describe, expect, test } from 'vitest';
import { sheetText } from '../../src/command/sheet-text.js';
import { sheetAssets } from '../../src/command/shipped.js';
import { fromMachine, layouts } from '../../src/job/layout.js';
import { planJob } from '../../src/plan/plan.js';
import { bendingAt, MAY_BREAK, pressing, WILL_BREAK } from '../../src/plan/press.js';
import { broachedBy } from '../../src/plan/tool.js';
import { postProgram } from '../../src/post/program.js';
import { toMm } from '../../src/quantity/length.js';
import { mm } from '../../src/quantity/unit.js';
import { regularStrength } from '../../src/section/strength.js';
import type { Part } from '../../src/sheet/model.js';
import { sheetFor } from '../../src/sheet/of-plan.js';
import { sheetPage } from '../../src/sheet/page.js';
import { sampleJob, sampleNames } from '../arbitrary/samples.js';
import { samplePrograms } from '../scripts/sample-programs.js';
import { samplePage, sampleSheet } from '../scripts/sample-sheets.js';

type Edit = readonly [from: string, to: string];
function sheetOf(name: string, ...edits: readonly Edit[]) {
  const plan = planJob(sampleJob(name, ...edits));
  return sheetFor(plan, [{ name: `${name}.nc`, text: postProgram(plan).text }]);
}
function partOf(sheet: { readonly parts: readonly Part[] }, id: string): Part {
  const found = sheet.parts.find((part) => part.id === id);
  if (found === undefined) throw new Error(`no part ${id}`);
  return found;
}
const factOf = (part: Part, label: string): string | undefined =>
  part.facts.find((fact) => fact.label === label)?.value;

describe('setting the slope', () => {
  test('2.5 deg on 100 mm: 4.362 high, of three blocks of the 88 set', () => {
    // Source: 100 sin 2.5 deg = 4.3619; Mechanical Engineer's Data Handbook, 7.2.3.
    const slope = partOf(sampleSheet('stem-bolt-hex-5'), 'slope');
    expect(factOf(slope, 'Height')).toBe('4.362 mm = 100 mm x sin 2.5 deg');
    expect(factOf(slope, 'Gauge blocks')).toMatch(/^[\d. +]+ = 4\.362 mm$/);
    expect(slope.tables[0]?.rows[2]).toEqual(['100 mm', '4.366']);
  });

  test('0.01 mm too high on 100 mm at 1 deg is 20.6 arc-seconds', () => {
    // Source: dh / (L cos t), derived: 0.3437 arcmin = 20.6 arcsec.
    const slope = partOf(
      sheetOf('stem-bolt-hex-5', ['relief: 2.5 deg', 'relief: 1 deg'], ['headTilt: 1 deg', 'headTilt: 0']),
      'slope',
    );
    expect(factOf(slope, '0.01 mm too high')).toMatch(/^relief 0\.3 arcmin more/);
  });

  test('an inch job takes the inch set; a set that is not known says so at its key', () => {
    expect(factOf(partOf(sampleSheet('seat-clamp-hex-quarter-inch'), 'slope'), 'Set')).toBe('inch 81');
    expect(() =>
      sheetOf('stem-bolt-hex-5', ['sineBar: 100', 'sineBar: 100, gaugeBlocks: metric 99']),
    ).toThrow(/holding\.slope\.gaugeBlocks: "metric 99" is no set known here; did you mean metric 8\d/);
  });

  test('without a sine bar there is what lies in the drawer, and the rise along the blank', () => {
    const slope = partOf(sampleSheet('pedal-pin-pentagon-lathe'), 'slope');
    expect(factOf(slope, 'Gauge blocks')).toBeUndefined();
    // Source: pins of 2 and 5: 3 / (2 sin 1 deg) = 85.948 between centres, and their radii; 18 tan 2 deg = 0.629.
    expect(factOf(slope, 'Set with')).toBe('pins of 2 mm and 5 mm, 89.448 mm over both');
    expect(slope.tables[1]?.rows).toEqual([['18 mm', '0.629']]);
  });

  test.each([
    // Source: h / tan t; d / (2 tan(t / 2)); s tan t and s sin t, t = 2 deg, over 100.
    ['using: strip', 'a strip of 3 mm, its near edge 85.909 mm behind the front edge'],
    ['using: pin', 'a pin of 3 mm, its centre 85.935 mm behind the front edge'],
    ['using: angle blocks, drawer: {angleBlocks: [0.5, 1.5, 3]}', 'angle blocks 0.5 deg + 1.5 deg'],
    ['using: shim', /ends differ by 3\.492 mm, along its own face by 3\.49 mm/],
    ['using: pins, plate: 20 mm', /nothing in the drawer makes it under 20 mm/],
  ])('%s', (using, said) => {
    const slope = partOf(
      sheetOf('pedal-pin-pentagon-lathe', ['slope: { by: fixture }', `slope: { by: fixture, ${using} }`]),
      'slope',
    );
    const value = factOf(slope, 'Set with') ?? factOf(slope, 'Tapered shim');
    if (typeof said === 'string') expect(value).toBe(said);
    else expect(value).toMatch(said);
  });
});

describe('touch-off', () => {
  /** Places where the wheel stands and what is typed there, as the cells have them, back in the wheel frame. */
  const wheelAt = (name: string, ...cells: readonly string[]): { readonly u: number; readonly w: number } => {
    const { machine, punch, holding } = sampleJob(name);
    const at = { x: 0, y: 0, z: 0 };
    for (const [, axis = '', value] of cells.join(' ').matchAll(/([XYZ]) (-?[\d.]+)/g))
      at[axis.toLowerCase() as 'x'] = toMm(Number(value), machine.units);
    return fromMachine(layouts[machine.layout], { by: holding.slope.by, angle: punch.relief }, at);
  };

  test.each(sampleNames)('%s: edge, spark, feeler and ground flats stand where the metal is', (name) => {
    const sheet = sampleSheet(name);
    const { job, touchOff, flats } = sheet.plan;
    const [before, ground] = partOf(sheet, 'touch').tables;
    const row = (end: RegExp): readonly string[] =>
      before?.rows.findLast(([what = '']) => end.test(what)) ?? [];
    const [feeler = 0] = /[\d.]+(?= feeler$)/.exec(row(/^or with/)[0] ?? '')?.map(Number) ?? [];
    const thick = toMm(feeler, job.machine.units);
    expect(thick).toBeGreaterThan(0.04);
    const spark = wheelAt(name, ...row(/first spark$/));
    const over = wheelAt(name, ...row(/^or with/));
    const within = job.machine.units === 'inch' ? 3 : 2.5;
    expect(spark.u).toBeCloseTo(touchOff.u, within);
    expect(spark.w).toBeCloseTo(touchOff.w, within);
    // Source: geometry; a tilted rim raised straight up by f / cos t stands f off a plane that it slides along.
    expect(over.w - spark.w).toBeCloseTo(thick, 2);
    ground?.rows
      .filter(([what = '']) => /finished$/.test(what))
      .forEach(([what = '', , cell = '']) => {
        const number = what.startsWith('any') ? 1 : Number.parseInt(what, 10);
        expect(wheelAt(name, cell).w).toBeCloseTo(flats[number - 1]?.w ?? 0, within);
      });
  });

  test('hex 5.06: beside the front face X reads R sin t + Rw and the feeler', () => {
    // Source: 4 sin 2.5 deg + 37.5 = 37.674.
    const [, edge] = partOf(sampleSheet('stem-bolt-hex-5'), 'touch').tables[0]?.rows ?? [];
    expect(edge?.[2]).toBe('X 37.724');
  });

  test('a hex that roughs 0.09 too large is typed 0.045 cos t more', () => {
    // Source: 5.150 / 2 x cos 2.5 deg = 2.5725, an example of touching by what was read.
    const { hands } = sampleSheet('stem-bolt-hex-5').plan;
    const step = hands.find((each) => each.kind === 'touch a ground flat');
    if (step?.kind !== 'touch a ground flat') throw new Error('a ground flat is touched');
    expect(step.type.reads + step.perReading * (5.15 - step.reading)).toBeCloseTo(2.5725, 3);
  });

  test('flats at different distances have a row each', () => {
    // A double-D reads alike on both flats; with one of them nearer each is touched by its own row.
    const job = sampleJob('axle-key-double-d');
    const section = job.punch.section.map((flat, i) => ({ ...flat, distance: mm(flat.distance - i * 0.2) }));
    const { hands } = planJob({ ...job, punch: { ...job.punch, section, sides: 'free' } });
    const rows = hands.flatMap((step) => (step.kind === 'touch a ground flat' ? [step] : []));
    expect(rows.map(({ flats, ground }) => `${flats.join(' ')} ${ground}`)).toEqual([
      '1 roughed',
      '2 roughed',
      '1 finished',
      '2 finished',
    ]);
  });
});

test('a leaned spindle says how hollow flats come out, and how to prove it', () => {
  // Source: (37.5 - sqrt(37.5^2 - 1.2^2)) tan 0.2 deg = 0.07 um; 100 tan 0.2 deg = 0.349; 8 sin 0.2 deg = 0.028.
  const edit: Edit = ['nose: { halfHeight: 12 }', 'nose: { halfHeight: 12 }\n  lean: 0.2 deg'];
  const said = factOf(partOf(sheetOf('stem-bolt-hex-5', edit), 'wheel'), 'Lean');
  expect(said).toMatch(
    /^0\.2 deg .* reads 0\.349 mm apart; .* hollow by 0\.1 um, the heel clears by 0\.028 mm$/,
  );
  expect(factOf(partOf(sampleSheet('stem-bolt-hex-5'), 'wheel'), 'Lean')).toBeUndefined();
});

describe('indexing', () => {
  const rows = (name: string, ...edits: readonly Edit[]): readonly (readonly string[])[] =>
    partOf(edits.length === 0 ? sampleSheet(name) : sheetOf(name, ...edits), 'index').tables[0]?.rows ?? [];

  test('dividing head 40 to 1, six flats: 6 turns and 10 holes on 15, arms over 11; or 12 on 18', () => {
    const inTurn: Edit = ['sequence: opposite pairs', 'sequence: in turn'];
    const [, second] = rows('seat-clamp-hex-quarter-inch', inTurn);
    expect(second?.slice(2, 4)).toEqual(['6 turns + 10 holes on 15', "11 holes, counting the pin's"]);
    const [, on18] = rows('seat-clamp-hex-quarter-inch', inTurn, [
      '[15, 16, 17, 18, 19, 20]',
      '[16, 17, 18]',
    ]);
    expect(on18?.slice(2, 4)).toEqual(['6 turns + 12 holes on 18', "13 holes, counting the pin's"]);
  });

  test('spin indexer: 72 deg is the hole at 70 and 2 on the vernier', () => {
    const [, second] = rows('pedal-pin-pentagon-lathe');
    expect(second?.slice(1, 4)).toEqual(['72', 'hole 70 deg', 'vernier 2']);
  });

  test('a rotary axis that counts the other way is read as the program says it', () => {
    const plan = planJob(sampleJob('stem-bolt-hex-5'));
    const { machine } = plan.job;
    const rotary = { ...machine.rotary, sense: 'reversed' } as typeof machine.rotary;
    const turned = planJob({ ...plan.job, machine: { ...machine, rotary } } as typeof plan.job);
    const text = postProgram(turned).text;
    const table = partOf(sheetFor(turned, [{ name: 'x.nc', text }]), 'index').tables[0]?.rows ?? [];
    expect(table[1]?.[1]).toBe('-180');
    expect(text).toContain('A-180.000');
  });

  test('a hex block holds a triangle on every second side', () => {
    expect(
      rows('valve-cap-triangle')
        .slice(0, 3)
        .map((row) => row[2]),
    ).toEqual(['side 1 up', 'side 3 up', 'side 5 up']);
  });

  test.each(sampleNames)('%s: the line named is the stop or the rotary block of that flat', (name) => {
    const programs = samplePrograms(name);
    const job = sampleJob(name);
    for (const row of rows(name)) {
      for (const line of (row.at(-1) ?? '').split(', ')) {
        const program = programs.length > 1 ? line : `${name}.nc`;
        const text = programs.find(({ suffix }) => `${name}${suffix}.nc` === program)?.text ?? '';
        const block = text.split('\n')[Number(line) - 1] ?? '';
        const perFlat = programs.length > 1;
        if (perFlat) expect(text).toContain(`INDEX TO ${row[1]} DEG - FLAT ${row[0]} OF`);
        else expect(block).toMatch(job.holding.index === 'by hand' ? /^(N\d+ )?M0$/ : /^(N\d+ )?G0 [AC]/);
      }
    }
  });
});

describe('inspection', () => {
  test('hex 5.06: 2 mm behind the edge it reads 2 x 2 x tan 2.5 deg less', () => {
    // Source: derived; 5.06 - 0.1746 = 4.8854.
    const [first] = partOf(sampleSheet('stem-bolt-hex-5'), 'inspection').tables[0]?.rows ?? [];
    expect(first).toEqual(['1 - 4', '5.120', '5.060', '4.885', '4.361', '5.045', '5.075', '0.020']);
  });

  test('a pentagon is read from flat to corner: h (1 + 1 / cos 36 deg)', () => {
    const [first] = partOf(sampleSheet('pedal-pin-pentagon-lathe'), 'inspection').tables[0]?.rows ?? [];
    expect(first?.[0]).toBe('1 - corner');
    expect(Number(first?.[2])).toBeCloseTo(3.05 * (1 + 1 / Math.cos(Math.PI / 5)), 3);
  });

  test('relief: how much less it reads farther behind, and under what it no longer clears the head by half a degree', () => {
    // Source: derived; 8 mm behind, 2 x 8 x tan 2.5 deg = 0.6986 and 2 x 8 x tan 1.5 deg = 0.4190.
    expect(factOf(partOf(sampleSheet('stem-bolt-hex-5'), 'inspection'), 'Relief')).toBe(
      '2.5 deg reads 0.699 less 8 behind than at the front; under 0.419 it clears the head by less than 0.5 deg; 0.01 mm off is 0.036 deg',
    );
  });

  test('only places are named that an instrument reaches: flats of 6 mm leave no room for anvils of 6.5 before the shoulder', () => {
    const head = (name: string): readonly string[] =>
      partOf(sampleSheet(name), 'inspection').tables[0]?.head ?? [];
    expect(head('stem-bolt-hex-5').slice(2, 6)).toEqual(['front', '2 behind', 'blade, 8 behind', 'least']);
    expect(head('valve-cap-triangle').slice(2, 4)).toEqual(['front', 'blade, 5 behind']);
    expect(partOf(sampleSheet('valve-cap-triangle'), 'inspection').notes.join(' ')).toMatch(
      /Flat anvils 6.5 wide overhang the front; behind it they would ride on the shoulder: take blades/,
    );
  });

  test.each([
    // Source: derived, a round in the V of a micrometer; flat to axis of the samples is 1.6 and 3.05.
    ['valve-cap-triangle', 'V-anvil 60 deg', 3.2, '3.185 to 3.215'],
    ['pedal-pin-pentagon-lathe', 'V-anvil 108 deg', 6.1, '6.085 to 6.115'],
  ])('%s: a %s reads the circle within the flats, no corner touched', (name, column, reads, limits) => {
    const [table] = partOf(sampleSheet(name), 'inspection').tables;
    const at = table?.head.indexOf(column) ?? -1;
    // Its limits stand beside it: twice a flat's distance within the tolerance, not flat to corner.
    for (const row of table?.rows ?? []) expect(row[at]).toBe(`${reads.toFixed(3)}, ${limits}`);
  });

  test('what a hand finds has room beside what it should be: blank, stick-out, marked speed, coast-down, slope, zeros', () => {
    const sheet = sampleSheet('stem-bolt-hex-5');
    const penned = sheet.parts.flatMap(({ facts }) => facts.filter(({ pen }) => pen !== undefined));
    expect(penned.map(({ label, pen }) => `${label}: ${pen}`)).toEqual([
      'Blank: as measured',
      'Stick-out: as set',
      'Marked: as read',
      'Coast-down: as timed',
      'Relief: as read',
    ]);
    expect(partOf(sheet, 'slope').tables.at(-1)?.pen).toEqual(['proved at']);
    expect(partOf(sheet, 'touch').tables[0]?.pen).toEqual(['offset then']);
    const text = sheetText(sheet);
    expect(text).toMatch(/Marked +5100 rev\/min; as read _+\n/);
    expect(samplePage('stem-bolt-hex-5').match(/class="found"/g)).toHaveLength(5);
  });

  test('what a slope does not move is called unchanged, what it does has its direction', () => {
    const slope = partOf(sampleSheet('stem-bolt-hex-5'), 'slope');
    expect(factOf(slope, '0.01 mm too high')).toBe('relief 0.3 arcmin more, size unchanged');
  });

  test('the marking and the wheel usual for the blank are on the sheet', () => {
    const wheel = partOf(sheetOf('brake-bolt-hex-6'), 'wheel');
    expect(factOf(wheel, 'Printed on it')).toBe('A 60 J 8 V, vitrified');
    expect(factOf(wheel, 'Usual for this blank')).toBe(
      'aluminium oxide, grit 46 to 80, grade H to J dry, vitrified',
    );
    expect(factOf(partOf(sampleSheet('stem-bolt-hex-5'), 'wheel'), 'Printed on it')).toBeUndefined();
  });

  test('there is room to write by pen', () => {
    expect(partOf(sampleSheet('stem-bolt-hex-5'), 'inspection').tables[0]?.pen?.length).toBe(2);
  });
});

describe('in the broaching head', () => {
  test('a triangle in steel breaks by its own figures, and the hole named takes that away', () => {
    const job = sampleJob('valve-cap-triangle');
    const [, steel] = broachedBy(job);
    if (steel === undefined || steel.safeHole === 'as it is') throw new Error('it should break');
    expect(steel.stress).toBeGreaterThan(WILL_BREAK);
    const end = regularStrength(mm(1.6 - 6 * Math.tan((2.5 * Math.PI) / 180)), 3);
    const stressThrough = (hole: number): number => {
      const front = { section: job.punch.section, round: mm(job.blank.size / 2) };
      return bendingAt(pressing(steel.work, front, mm(hole / 2), job.punch.headTilt, steel.feed), end);
    };
    expect(stressThrough(steel.safeHole)).toBeLessThanOrEqual(MAY_BREAK);
    expect(stressThrough(steel.safeHole - 0.02)).toBeGreaterThan(MAY_BREAK);
    const [table] = partOf(sampleSheet('valve-cap-triangle'), 'head').tables;
    expect(table?.rows[1]?.at(-1)).toMatch(/^7900 N\/mm2: breaks, a hole of 5\.\d+ mm does not$/);
    // A hexagon holds.
    for (const { safeHole } of broachedBy(sampleJob('brake-bolt-hex-6'))) expect(safeHole).toBe('as it is');
  });

  test('a stack and a base block say which roll each is under, and what their difference is', () => {
    const slope = partOf(sampleSheet('seat-clamp-hex-quarter-inch'), 'slope');
    // Source: derived; 5 in x sin 2 deg = 0.1745; 0.3005 - 0.126.
    expect(factOf(slope, 'Gauge blocks')).toBe('0.2 + 0.1005 = 0.3005 in under the roll at the shank end');
    expect(factOf(slope, 'Base block')).toBe(
      '0.126 in under the other roll, at the tip end; 0.1745 in less, which is the rise',
    );
  });

  test('no limit reads higher than it is: AC tan 1 deg of a triangle is 0.1117', () => {
    expect(factOf(partOf(sampleSheet('valve-cap-triangle'), 'head'), 'Feed')).toBe(
      'never over 0.111 mm a revolution',
    );
  });
});

describe('the punch as a tool', () => {
  test('length and shank of its head, gauge of its socket, strength, and its life to keep', () => {
    const tool = partOf(sampleSheet('brake-bolt-hex-6'), 'tool');
    expect(factOf(tool, 'Length')).toBe("45 mm from the shank's rear end to the face");
    expect(factOf(tool, 'Shank')).toBe(
      "8 mm, ground concentric before the flats; a flat for the head's screw",
    );
    expect(factOf(tool, 'Gauge')).toBe('of the socket it makes: 6.02 mm goes in, 6.14 mm does not');
    const [life] = tool.tables;
    expect(life?.pen).toEqual(['measured', 'date']);
    // Source: derived; a cut of 0.15 takes 2 x 0.15 x tan 2.5 deg = 0.0131 off 6.092, 45 gets 0.15 shorter.
    expect(life?.rows.slice(0, 2)).toEqual([
      ['new', '0.00', '6.092', '45.00', '11.00', '9.14'],
      ['1', '0.15', '6.079', '44.85', '10.85', '9.12'],
    ]);
  });

  test('a head that is not known asks for its length, with what being off does: 2 d sin of the tilt', () => {
    // Source: derived; 2 x 0.1 x sin 1 deg = 3.5 um.
    expect(factOf(partOf(sampleSheet('stem-bolt-hex-5'), 'tool'), 'Length')).toMatch(
      /by the head: .*each 0\.1 mm its tip stands off moves across flats by 3\.5 um/,
    );
    expect(partOf(sampleSheet('axle-key-double-d'), 'tool').tables).toEqual([]);
  });

  test('a blank under the shank wants a sleeve', () => {
    const sheet = partOf(
      sheetOf('stem-bolt-hex-5', ['flatLength: 10', 'flatLength: 10\n  shank: 10']),
      'tool',
    );
    expect(factOf(sheet, 'Shank')).toBe('10 mm: the blank of 8 mm wants a sleeve');
  });
});

describe('the page', () => {
  test.each(sampleNames)('%s: its parts, numbered, and the cautions before them', (name) => {
    const page = samplePage(name);
    const headings = [...page.matchAll(/<h2 id="(\w+)-title">/g)].map((match) => match[1]);
    expect(headings).toEqual(
      'caution made side wheel slope touch index passes inspection head tool'.split(' '),
    );
    expect(page).toMatch(/Ring-test the wheel/);
    expect(page).not.toMatch(/https?:\/\/(?!www\.w3\.org\/2000\/svg)/);
    expect(page.replace(/<script[\s\S]*?<\/script>/g, '')).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('a 5,000-block program stays under 400 kB', () => {
    const sheet = sheetOf('stem-bolt-hex-5', ['roughInfeed: 0.02', 'roughInfeed: 0.0072']);
    expect(sheet.playback.report.lines).toBeGreaterThan(5000);
    expect(Buffer.byteLength(sheetPage(sheet, sheetAssets()))).toBeLessThan(400_000);
  });

  test('markup in titles and programs arrives as text', () => {
    const evil = '</script><script>alert(1)</script><img src=x onerror=alert(2)> & "q"';
    const plan = planJob(sampleJob('stem-bolt-hex-5', ['title: stem-bolt hex 5', `title: '${evil}'`]));
    const text = postProgram(plan).text.replace('(JOB:', '(</script><script>alert(3)</script> JOB:');
    const page = sheetPage(sheetFor(plan, [{ name: '<b>x</b>.nc', text }]), sheetAssets());
    expect(page.match(/<script>/g)?.length).toBe(1);
    expect(page).not.toContain('<img');
    expect(page).not.toContain('<b>');
    expect(page).toContain('&lt;img src=x onerror=alert(2)&gt; &amp; &quot;q&quot;');
  });

  test('the text has every part and every number the page has', () => {
    const sheet = sampleSheet('bearing-cap-square-8');
    // Broken at words to fit a screen.
    const text = sheetText(sheet).replaceAll(/\s+/g, ' ');
    for (const { heading, facts, tables } of sheet.parts) {
      expect(text).toContain(heading);
      for (const { value } of facts) expect(text).toContain(value.replaceAll(/\s+/g, ' '));
      for (const { rows } of tables)
        for (const cell of rows.flat()) expect(text).toContain(cell.replaceAll(/\s+/g, ' '));
    }
  });
});

describe('cautions', () => {
  const cautions = (name: string, ...edits: readonly Edit[]): string =>
    partOf(edits.length === 0 ? sampleSheet(name) : sheetOf(name, ...edits), 'caution').notes.join(' ');

  test('speed, ring test, guard, eyes, hands, dust and ways are on every sheet', () => {
    for (const name of sampleNames)
      expect(cautions(name)).toMatch(
        /burst.*marked.*[Rr]ing-test.*Guard on, eyes.*stand clear.*coasted down.*(dust|mist).*cover the ways/i,
      );
  });

  test('cobalt in the blank, coolant, a metal body, a rotary axis and a switch of its own have their words', () => {
    const cobalt: Edit = ['material: high-speed steel', 'material: M42 high-speed steel'];
    expect(cautions('stem-bolt-hex-5', cobalt)).toMatch(/cobalt.*grind wet, and draw off besides/);
    expect(cautions('stem-bolt-hex-5')).not.toMatch(/cobalt/);
    expect(cautions('crank-bolt-hex-8')).toMatch(/Draw off the mist/);
    expect(cautions('valve-cap-triangle')).toMatch(/if its body rings/);
    expect(cautions('stem-bolt-hex-5')).toMatch(/The rotary axis turns by itself/);
    expect(cautions('bearing-cap-square-8')).not.toMatch(/rotary/);
  });
});
