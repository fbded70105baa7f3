import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { createWorld, type World } from './fake-io.js';

let world: World;
beforeEach(() => {
  world = createWorld();
});
afterEach(() => world.remove());

const HEX = 'samples/stem-bolt-hex-5.yaml';
const file = (name: string): string => readFileSync(join(world.folder, name), 'utf8');
const write = (name: string, text: string): void => writeFileSync(join(world.folder, name), text);

describe('from job to checked program', () => {
  test('post writes what check passes; one infeed made 0.5 mm deep, check refuses and names the block', async () => {
    const posted = await world.run(['post', HEX, '-o', 'x.nc']);
    expect(posted.code).toBe(0);
    expect(posted.out).toBe('');
    expect(posted.err).toMatch(/^x\.nc: checked, 2058 lines, 643 passes/);
    const checked = await world.run(['check', 'x.nc', '--job', HEX]);
    expect(checked.code).toBe(0);
    expect(checked.out).toMatch(/^SOUND ON PAPER {2}2058 lines read, nothing against it/);
    write('x.nc', file('x.nc').replace('G1 Z4.298 F1200.0\n', 'G1 Z3.818 F1200.0\n'));
    const line = file('x.nc').split('\n').indexOf('G1 Z3.818 F1200.0') + 2;
    const refused = await world.run(['check', 'x.nc', '--job', HEX]);
    expect(refused.code).toBe(1);
    expect(refused.out).toMatch(/^DO NOT RUN {2}2 errors/);
    expect(refused.out).toContain(
      `x.nc:${line} stroke-too-deep: the stroke cuts 0.5 mm deep, the job allows 0.02 mm`,
    );
    expect(refused.out).toContain('    G1 X27.426\n');
  });

  test('post without -o gives the program on standard output, the same as in the file', async () => {
    const { out, code } = await world.run(['post', HEX]);
    expect(code).toBe(0);
    expect(out).toBe(file('samples/stem-bolt-hex-5.nc'));
  });

  test('--split writes numbered files that check takes as a set', async () => {
    const posted = await world.run(['post', 'samples/valve-cap-triangle.yaml', '--split', '-o', 'cap.nc']);
    expect(posted.err).toMatch(/^cap-01\.nc, .*cap-06\.nc: checked/m);
    const set = [1, 2, 3, 4, 5, 6].map((n) => `cap-0${n}.nc`);
    expect((await world.run(['check', ...set, '--job', 'samples/valve-cap-triangle.yaml'])).code).toBe(0);
    const missing = await world.run([
      'check',
      ...set.filter((each) => !/0[25]/.test(each)),
      '--job',
      'samples/valve-cap-triangle.yaml',
    ]);
    expect(missing.code).toBe(1);
    expect(missing.out).toMatch(/flat-missing: flat 2 at 120 deg is never ground/);
  });

  test('programs of a longer set that stood there before are named, and removed with --force', async () => {
    const old = join(world.folder, 'cap-07.nc');
    writeFileSync(old, '; PROGRAM 07 OF 12 - FINISH FLAT 1 - AFTER -06\n');
    writeFileSync(join(world.folder, 'cap-99.nc'), 'M30\n');
    const post = ['post', 'samples/valve-cap-triangle.yaml', '--split', '-o', 'cap.nc'];
    expect((await world.run(post)).err).toMatch(/cap-07\.nc: of an older set, remove it/);
    expect(existsSync(old)).toBe(true);
    expect((await world.run([...post, '--force'])).err).toMatch(/cap-07\.nc: of an older set, removed/);
    expect(existsSync(old)).toBe(false);
    // What is no program of a set is nobody's to remove.
    expect(file('cap-99.nc')).toBe('M30\n');
  });

  test('a set never replaces one file when another is in the way', async () => {
    write('cap-02.nc', 'mine');
    const posted = await world.run(['post', 'samples/valve-cap-triangle.yaml', '--split', '-o', 'cap.nc']);
    expect(posted.code).toBe(2);
    expect(posted.err).toContain('cap-02.nc: already there; --force replaces it');
    expect(existsSync(join(world.folder, 'cap-01.nc'))).toBe(false);
    expect(file('cap-02.nc')).toBe('mine');
  });

  test('standard input works for a job and for a program', async () => {
    const job = file(HEX);
    expect((await world.run(['plan', '-'], job)).code).toBe(0);
    const program = file('samples/stem-bolt-hex-5.nc');
    expect((await world.run(['check', '-', '--job', HEX], program)).code).toBe(0);
    expect((await world.run(['trace', '-'], 'G21\nG90\nG0 X1.\nM2\n')).out.split('\n').length).toBe(5);
  });

  test('a job that cannot be made safely: exit 1, the reason with its place, nothing written', async () => {
    write('steep.yaml', file(HEX).replace('relief: 2.5 deg', 'relief: 0.8 deg'));
    const { code, err } = await world.run(['post', 'steep.yaml', '-o', 'x.nc']);
    expect(code).toBe(1);
    expect(err).toContain(
      'error relief-below-tilt: relief 0.8 deg is not more than the head tilt of 1 deg, the punch would rub; 1.5 deg or more clears (steep.yaml:8, punch.relief)',
    );
    expect(existsSync(join(world.folder, 'x.nc'))).toBe(false);
  });

  test('a job that cannot be read: exit 2, file, line, column, key, and what would do', async () => {
    write('bad.yaml', file(HEX).replace('flatLength', 'flatLenght'));
    const { code, err, out } = await world.run(['plan', 'bad.yaml']);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(/^error bad\.yaml:7:3 punch\.flatLenght: unknown key; did you mean flatLength\?/);
  });
});

describe('what would hurt is stopped early', () => {
  test('a control that runs on through program stops gets one program a flat, or none', async () => {
    const { code, err } = await world.run(['post', 'samples/valve-cap-triangle.yaml', '-o', 'x.nc']);
    expect(code).toBe(1);
    expect(err).toContain('runs on through program stops');
    expect(err).toContain('--split');
    expect(existsSync(join(world.folder, 'x.nc'))).toBe(false);
  });

  test('the program never replaces its own job', async () => {
    const { code, err } = await world.run(['post', HEX, '-o', HEX, '--force']);
    expect(code).toBe(2);
    expect(err).toContain('this is read by the same command');
    expect(file(HEX)).toContain('title: stem-bolt hex 5');
  });

  test("nor a machine profile of one's own; a shipped one is no file of the user", async () => {
    const profile = readFileSync(
      fileURLToPath(new URL('../../shared/machines/bench-mill-rotary.yaml', import.meta.url)),
      'utf8',
    );
    write('mine.yaml', profile);
    write('samples/beside.yaml', file(HEX).replace('machine: bench-mill-rotary', 'machine: ../mine.yaml'));
    for (const [job, ...more] of [[HEX, '--machine', 'mine.yaml'], ['samples/beside.yaml']] as const) {
      const { code, err } = await world.run(['post', job, ...more, '-o', 'mine.yaml', '--force']);
      expect([code, err]).toEqual([2, expect.stringContaining('this is read by the same command')]);
    }
    expect(file('mine.yaml')).toBe(profile);
    expect((await world.run(['post', HEX, '-o', 'bench-mill-rotary'])).code).toBe(0);
  });

  test('a good verdict carries the caution, a bad one the reasons', async () => {
    const { out } = await world.run(['check', 'samples/stem-bolt-hex-5.nc', '--job', HEX]);
    expect(out).toMatch(/ring test, guard, eye protection/);
  });
});

describe('a program without a job', () => {
  const READ = ['check', 'samples/stem-bolt-hex-5.nc', '--machine'];

  test('is read for a machine alone, and says aloud what is not judged', async () => {
    const { out, code } = await world.run([...READ, 'bench-mill-rotary']);
    expect(code).toBe(0);
    expect(out).toMatch(
      /^READ WITHOUT A JOB {2}2058 lines read, 0 skipped, nothing against it on bench-mill/,
    );
    expect(out).toMatch(/Not judged: what it does to a punch, a wheel and what holds them/);
    expect(out).toMatch(/X +27\.409 to 40\.674 mm; 129\.326 mm of the travel left/);
    const json = JSON.parse((await world.run([...READ, 'bench-mill-rotary', '--json'])).out) as object;
    expect(json).toMatchObject({
      verdict: 'read',
      lines: 2058,
      skipped: 0,
      travelMm: { x: [27.409, 40.674] },
    });
  });

  test('on a machine it is not for it is refused, the verdict last', async () => {
    const { out, code } = await world.run([...READ, 'inch-mill']);
    expect(code).toBe(1);
    expect(out).toMatch(/units-unsaid: a length before the program has said its units; write G70 first/);
    expect(out.trimEnd().split('\n').at(-1)).toMatch(/^DO NOT RUN {2}2058 lines read, \d+ skipped/);
    const idle = await world.run([...READ, 'bench-mill-rotary', '--raised', '5']);
    expect([idle.code, idle.err]).toEqual([2, expect.stringContaining('--raised goes with --job')]);
  });
});

describe('writing files', () => {
  test('an existing file stays unless --force is given, and no litter is left', async () => {
    write('x.nc', 'mine');
    const first = await world.run(['post', HEX, '-o', 'x.nc']);
    expect(first.code).toBe(2);
    expect(first.err).toContain('x.nc: already there; --force replaces it');
    expect(file('x.nc')).toBe('mine');
    expect((await world.run(['post', HEX, '-o', 'x.nc', '--force'])).code).toBe(0);
    expect(file('x.nc')).toBe(file('samples/stem-bolt-hex-5.nc'));
    expect(readdirSync(world.folder).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  test('a place that cannot be written is exit 2 with the reason', async () => {
    mkdirSync(join(world.folder, 'dir.nc'));
    expect((await world.run(['post', HEX, '-o', 'dir.nc'])).err).toContain(
      'dir.nc: this is a folder, not a file',
    );
    const { code, err } = await world.run(['post', HEX, '-o', 'nowhere/x.nc']);
    expect(code).toBe(2);
    expect(err).toContain('nowhere/x.nc: there is no folder nowhere');
  });
});

describe('a job that draws on a shop file', () => {
  const JOB = 'samples/drawers/pinch-bolt-hex-4.yaml';

  test('plans, posts and checks; the plan says what came from the drawers', async () => {
    const plan = await world.run(['plan', JOB]);
    expect(plan.code).toBe(0);
    expect(plan.out).toMatch(/Shop {5}shop\.yaml: punch, blank round 6, wheel white cup/);
    expect(plan.out).toContain('taken back flat by flat');
    expect((await world.run(['post', JOB, '-o', 'pinch.nc'])).code).toBe(0);
    expect((await world.run(['check', 'pinch.nc', '--job', JOB])).code).toBe(0);
  });

  test('nothing is written over the drawers', async () => {
    const { code, err } = await world.run(['post', JOB, '-o', 'samples/drawers/shop.yaml', '--force']);
    expect(code).toBe(2);
    expect(err).toContain('this is read by the same command');
  });
});

describe('what a log proposes', () => {
  const read = (by: number): string[] =>
    ['1-4', '2-5', '3-6'].map((pair) => `${pair}=${(5.12 + by).toFixed(3)}`);

  test('three runs tell a spread; nothing is changed', async () => {
    const before = file(HEX);
    for (const by of [0.01, 0.02, 0.03])
      expect((await world.run(['adjust', HEX, '--over', ...read(by), '--log'])).code).toBe(0);
    const learnt = await world.run(['adjust', HEX, '--learn']);
    expect(learnt.code).toBe(0);
    expect(learnt.out).toMatch(/3 runs in stem-bolt-hex-5\.log\.yaml/);
    expect(learnt.out).toMatch(/spreads: \{ touchOff: 0\.01 mm \} +# from 3 runs/);
    expect(learnt.out).toContain('Nothing is changed');
    expect(file(HEX)).toBe(before);
  });

  test('without a log it says so', async () => {
    const { code, err } = await world.run(['adjust', HEX, '--learn']);
    expect(code).toBe(2);
    expect(err).toContain('stem-bolt-hex-5.log.yaml: cannot be read: there is no such file');
  });
});

describe('hand wheels', () => {
  const SQUARE = 'samples/by-hand/hub-cap-square-6.yaml';

  test('dial prints what the wheels need, or a page of it, or JSON with every pass', async () => {
    const { code, out, err } = await world.run(['dial', SQUARE]);
    expect([code, err]).toEqual([0, '']);
    expect(out).toMatch(/BACK OFF to +0\.100 mm/);
    expect(out).toMatch(/rough +1\.880 to 0\.040 +0\.020 +93 +0\.120 to 1\.960/);
    for (const caution of [/ring-test/i, /guard on, eyes protected/i, /marking of the\s+wheel maker/])
      expect(out).toMatch(caution);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
    const page = await world.run(['dial', SQUARE, '-o', 'dials.html']);
    expect(page.err).toBe('dials.html: written, its passes are sound on paper\n');
    expect(file('dials.html')).toBe(file('samples/by-hand/hub-cap-square-6.html'));
    const { passes, ladders } = JSON.parse((await world.run(['dial', SQUARE, '--json'])).out);
    expect(passes.length).toBeGreaterThan(400);
    expect(ladders[0].rows[0]).toMatchObject({ kind: 'rough', passes: 93 });
  });

  test.each([
    ['post', 'no program is for it'],
    ['sheet', 'flatwright dial'],
    ['dress', 'hand wheels and no control'],
  ])('%s says to take dial instead', async (command, said) => {
    const { code, err } = await world.run([command, SQUARE, '-o', 'x.nc']);
    expect(code).toBe(2);
    expect(err).toContain(said);
    expect(existsSync(join(world.folder, 'x.nc'))).toBe(false);
  });

  test('check has no program to read for it, and dial no dials on a machine with a control', async () => {
    expect((await world.run(['check', 'samples/stem-bolt-hex-5.nc', '--job', SQUARE])).code).toBe(2);
    const { code, err } = await world.run(['dial', HEX]);
    expect([code, err]).toEqual([
      2,
      expect.stringMatching(/bench-mill-rotary has a control: post its program/),
    ]);
    expect((await world.run(['plan', SQUARE])).out).toContain(`Next: flatwright dial ${SQUARE}`);
  });

  test('block prints how to make one, draws it, and says what to grind off a crooked one', async () => {
    const BELL = 'samples/by-hand/bell-cap-square-5.yaml';
    expect((await world.run(['block', BELL])).out).toMatch(/Across, rear +33\.493 mm/);
    const drawn = await world.run(['block', BELL, '-o', 'block.svg']);
    expect([drawn.code, drawn.err]).toEqual([0, 'block.svg: written\n']);
    expect(file('block.svg')).toMatch(/^<svg /);
    await world.run(['block', BELL, '-o', 'block.html']);
    expect(file('block.html')).toContain('<h2 id="block-title">');
    const front = '18.75,18.752,18.749,18.763';
    const read = await world.run(['block', BELL, '--front', front, '--rear', '19.623,19.625,19.622,19.626']);
    expect(read.out).toMatch(/4 +18\.763 +19\.626 +2\.471 +0\.004 +0\.014/);
    const half = await world.run(['block', BELL, '--front', front]);
    expect([half.code, half.err]).toEqual([2, expect.stringMatching(/--front and --rear go together/)]);
  });

  test('what hands cannot follow is refused with what would do', async () => {
    const { err } = await world.run(['dial', HEX, '--machine', 'hand-mill']);
    expect(err).toMatch(/holding\.index: hand-mill has no rotary axis; write by hand/);
    expect(err).toMatch(/grinding\.wear: no hand follows a wear that is only predicted/);
    write('tilted.yaml', file(SQUARE).replace('{ by: fixture, using: pins }', '{ by: head }'));
    expect((await world.run(['dial', 'tilted.yaml'])).err).toMatch(/two slides of hand-mill at once/);
  });
});

describe('resharpening', () => {
  test('the table, the program, and its own check', async () => {
    const { code, out, err } = await world.run(['resharpen', HEX, '--cut', '0.1', '-o', 'face.nc']);
    expect(code).toBe(0);
    expect(out).toMatch(/regrind {3}off {2}across flats/);
    expect(err).toContain('face.nc: checked');
    const checked = await world.run(['check', 'face.nc', '--job', HEX]);
    expect(checked.code).toBe(0);
    expect(checked.out).toContain('The face: 0.1 mm comes off it');
    write('deep.nc', file('face.nc').replace('G1 Z-0.050', 'G1 Z-0.090'));
    expect((await world.run(['check', 'deep.nc', '--job', HEX])).out).toContain('stroke-too-deep');
    expect((await world.run(['check', 'face.nc', 'face.nc', '--job', HEX])).code).toBe(2);
  });

  test.each([
    [['--cut', '0'], /--cut 0: more than 0/],
    [['--size', '4'], /under its least size already/],
    [['--dish', '3 mm'], /--dish: "3 mm" is not an angle/],
  ])('%j is refused by name', async (more, said) => {
    const { code, err } = await world.run(['resharpen', HEX, ...more]);
    expect([code, err]).toEqual([2, expect.stringMatching(said)]);
  });
});

describe('a run in the air', () => {
  test('is judged by --raised, in the units of the job, and by the head of a program that only shows places', async () => {
    const raised = await world.run(['check', 'samples/stem-bolt-hex-5.nc', '--job', HEX, '--raised', '5']);
    expect(raised.code).toBe(0);
    expect(raised.out).toMatch(
      /Raised 5 mm: nothing is cut, as wanted; the rim passes 3\.\d+ mm over the punch/,
    );
    const low = await world.run(['check', 'samples/stem-bolt-hex-5.nc', '--job', HEX, '--raised', '1']);
    expect(low.code).toBe(1);
    expect(low.out).toContain('cuts-in-the-air');
    expect((await world.run(['post', HEX, '--outline', '-o', 'places.nc'])).code).toBe(0);
    expect((await world.run(['check', 'places.nc', '--job', HEX])).out).toMatch(/^SOUND ON PAPER/);
    const ill = await world.run(['check', 'places.nc', '--job', HEX, '--raised', 'high']);
    expect([ill.code, ill.err]).toEqual([2, expect.stringMatching(/^--raised: /)]);
  });
});

describe('what is left beside', () => {
  const CAP = 'samples/valve-cap-triangle.yaml';
  const read = ['--over', '1=4.89', '2=4.89', '3=4.89'];

  test('adjust names programs of a longer set that stood there, and removes them with --force', async () => {
    await world.run(['post', CAP, '--split', '-o', 'y.nc']);
    const { code, err } = await world.run(['adjust', CAP, ...read, '-o', 'y.nc', '--force']);
    expect(code).toBe(0);
    expect(err).toContain('y-04.nc: of an older set, removed');
    expect(existsSync(join(world.folder, 'y-04.nc'))).toBe(false);
  });

  test('a face is not cut where none is left, and options of other programs are refused by name', async () => {
    const scrap = await world.run(['resharpen', HEX, '--size', '5.046', '-o', 'scrap.nc']);
    expect(scrap.code).toBe(1);
    expect(existsSync(join(world.folder, 'scrap.nc'))).toBe(false);
    await world.run(['resharpen', HEX, '--cut', '0.02', '-o', 'face.nc']);
    const raised = await world.run(['check', 'face.nc', '--job', HEX, '--raised', '5']);
    expect([raised.code, raised.err]).toEqual([2, expect.stringContaining('--raised goes with those')]);
  });

  test('a diamond stands in the way of the wheel that grinds, and is met by the one that is dressed', async () => {
    write('near.yaml', file(HEX).replace('holding:', 'holding:\n  diamond: { x: 70, y: 0, z: 3 }'));
    const near = await world.run(['post', 'near.yaml', '-o', 'near.nc']);
    expect(near.code).toBe(1);
    expect(near.err).toMatch(/wheel-meets-fixture.*diamond/);
    write('far.yaml', file(HEX).replace('holding:', 'holding:\n  diamond: { x: 70, y: 0, z: -5 }'));
    expect((await world.run(['post', 'far.yaml', '-o', 'far.nc'])).code).toBe(0);
    expect((await world.run(['dress', 'far.yaml', '-o', 'dress.nc'])).code).toBe(0);
    const shallow = ['dress', 'far.yaml', '--depth', '0.001', '--passes', '1', '-o', 'shallow.nc'];
    expect((await world.run(shallow)).err).toMatch(
      /^look the program may wear the rim by 0\.0\d+ mm; .* --passes \d+ reaches/m,
    );
    expect((await world.run(['dress', 'far.yaml', '--passes', '50', '-o', 'deep.nc'])).err).not.toMatch(
      /^look/m,
    );
    const checked = await world.run(['check', 'dress.nc', '--job', 'far.yaml']);
    expect([checked.code, checked.out]).toEqual([0, expect.stringContaining('add -0.03 mm to its offset')]);
    write('in.yaml', file(HEX).replace('holding:', 'holding:\n  diamond: { x: -20, y: 0, z: -5 }'));
    expect((await world.run(['dress', 'in.yaml'])).err).toMatch(/farther from the tip would do/);
  });

  test('a slip of units is said first', async () => {
    write('slip.yaml', file(HEX).replace('size: 8,', 'size: 0.315,'));
    const { code, err } = await world.run(['plan', 'slip.yaml']);
    expect(code).toBe(1);
    expect(err).toMatch(/^look blank\.size: in inches, everything would be in order/);
  });

  test('nothing asked for is answered with what there is, pages can be read, shells are told', async () => {
    const bare = await world.run([]);
    expect([bare.code, bare.out]).toEqual([0, expect.stringContaining('Usage: flatwright')]);
    expect((await world.run(['help', 'order'])).out).toMatch(/^# Order and stops/);
    expect((await world.run(['completion', 'bash'])).out).toContain('post) options="--from');
    expect((await world.run(['completion', 'none'])).code).toBe(2);
    const faulty = await world.run(['plan', 'none.yaml', '--json']);
    expect(JSON.parse(faulty.out)).toMatchObject({ exit: 2, problems: [{ file: 'none.yaml' }] });
    expect((await world.run(['post', HEX, '-o', '-'])).out).toBe(file('samples/stem-bolt-hex-5.nc'));
  });
});

describe('split at its stops', () => {
  test('an axis job is split where hands act, and one that runs through is not', async () => {
    const whole = await world.run(['post', HEX, '--split', '-o', 'part.nc']);
    expect(whole.code).toBe(0);
    expect(whole.err).toContain('part-01.nc, part-02.nc: checked');
    expect(file('part-02.nc')).toContain('(PROGRAM 02 OF 02 - FINISH FLATS 1 4 2 5 3 6 - AFTER -01)');
    const through = file(HEX).replace('measuringStop: after roughing', 'measuringStop: none');
    write('through.yaml', through.replace('wear: compensate', 'wear: ignore'));
    const { code, err } = await world.run(['post', 'through.yaml', '--split', '-o', 'x.nc']);
    expect(code).toBe(2);
    expect(err).toContain('through.yaml: has no stop to split at; leave --split out');
  });
});

describe('inputs that are not there', () => {
  test.each([
    [['plan', 'none.yaml'], 'none.yaml: cannot be read: there is no such file'],
    [['plan', 'samples'], 'samples: cannot be read: this is a folder, not a file'],
    [['check', 'none.nc', '--job', HEX], 'none.nc: cannot be read: there is no such file'],
    [['check', 'samples', '--job', HEX], 'samples: cannot be read: this is a folder, not a file'],
    [['trace', 'none.nc'], 'none.nc: cannot be read: there is no such file'],
    [['plan', HEX, '--machine', 'bench-mill-rotari'], 'did you mean bench-mill-rotary?'],
    [['plan', HEX, '--machine', './none.yaml'], './none.yaml: cannot be read: there is no such file'],
    [['post', 'samples/valve-cap-triangle.yaml', '--split'], 'say where with -o FILE'],
    [['check', 'x.nc'], 'say --job JOB, to see what it does to the punch; or --machine NAME'],
    [['plan', HEX, '--jsn'], "unknown option '--jsn'"],
    [['grind', HEX], "unknown command 'grind'"],
  ])('%j', async (argv, said) => {
    const { code, err, out } = await world.run(argv);
    expect(code).toBe(2);
    expect(err).toContain(said);
    expect(out).toBe('');
  });

  test('a job may name a profile of its own, beside it', async () => {
    mkdirSync(join(world.folder, 'jobs'));
    const profile = readFileSync(
      new URL('../../shared/machines/bench-mill-rotary.yaml', import.meta.url),
      'utf8',
    );
    write('jobs/mine.yaml', profile.replace('title: bench mill', 'title: my own bench mill'));
    write('jobs/hex.yaml', file(HEX).replace('machine: bench-mill-rotary', 'machine: ./mine.yaml'));
    const { code, out } = await world.run(['plan', 'jobs/hex.yaml', '--all']);
    expect(code).toBe(0);
    expect(out).toContain('my own bench mill with a rotary axis');
  });
});

describe('--json', () => {
  test('plan, post and check speak JSON with units in their names', async () => {
    const plan = JSON.parse((await world.run(['plan', HEX, '--json'])).out);
    expect(plan.postable).toBe(true);
    expect(plan.flats[0].centreEndMm).toBeCloseTo(27.58135, 5);
    expect(plan.defaults).toContainEqual({ key: 'grinding.clearance', value: '3 mm' });
    const post = JSON.parse((await world.run(['post', HEX, '--json'])).out);
    expect(post.programs[0].text).toBe(file('samples/stem-bolt-hex-5.nc'));
    expect(post.check.verdict).toBe('run');
    const check = JSON.parse(
      (await world.run(['check', 'samples/stem-bolt-hex-5.nc', '--job', HEX, '--json'])).out,
    );
    expect(check.punch.flats[0].distanceMm).toBeCloseTo(2.53044, 5);
    expect(check.findings).toEqual([]);
  });

  test('a refused plan is JSON too, with code, sentence, file and line', async () => {
    write('steep.yaml', file(HEX).replace('relief: 2.5 deg', 'relief: 0.8 deg'));
    const { code, out } = await world.run(['plan', 'steep.yaml', '--json']);
    expect(code).toBe(1);
    expect(JSON.parse(out).findings[0]).toMatchObject({
      code: 'relief-below-tilt',
      file: 'steep.yaml',
      line: 8,
      severity: 'error',
    });
  });

  test('trace: one object a line, mm and degrees', async () => {
    const { out, code } = await world.run(['trace', 'samples/stem-bolt-hex-5.nc']);
    expect(code).toBe(0);
    const rows = out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    const first = rows.find((row) => row.motion === 'feed');
    expect(first).toMatchObject({
      motion: 'feed',
      x: 40.674,
      y: 0,
      z: 4.478,
      a: 0,
      feed: 1200,
      spindle: 'clockwise',
      speed: 4000,
    });
    expect(rows.at(-1)).toMatchObject({ end: true, spindle: 'off' });
    expect(
      JSON.parse((await world.run(['trace', '-'], 'G21\nG0 X[1]\n')).out.split('\n')[1] ?? '').refused.code,
    ).toBe('expression-or-parameter');
  });
});

describe('a program that its check refuses', () => {
  /** S is written whole, rounded down; a spindle that starts at half a turn more then runs too slow. */
  const refused = async (...more: readonly string[]) => {
    const profile = readFileSync(
      new URL('../../shared/machines/bench-mill-rotary.yaml', import.meta.url),
      'utf8',
    );
    write('mine.yaml', profile.replace('min: 300', 'min: 4000.5'));
    write('hex.yaml', file(HEX).replace('spindleSpeed: 4000', 'spindleSpeed: 4000.9'));
    return world.run(['post', 'hex.yaml', '-o', 'x.nc', '--machine', './mine.yaml', ...more]);
  };

  test('is not written', async () => {
    const { code, err } = await refused();
    expect(code).toBe(1);
    expect(err).toMatch(/error x\.nc:\d+ speed-outside-spindle: 4000 rev\/min is outside/);
    expect(err).toContain('its own check refuses the program, so it is not written; --write-refused');
    expect(existsSync(join(world.folder, 'x.nc'))).toBe(false);
  });

  test('is written when asked for in as many words, and says so at its top', async () => {
    const { code, err } = await refused('--write-refused');
    expect(code).toBe(1);
    expect(err).toContain('REFUSED by its check');
    expect(file('x.nc')).toMatch(/^\(WARNING: THE CHECK REFUSED THIS PROGRAM/);
  });
});

describe('new', () => {
  test.each([
    ['D', '4.5', '6', 'D 6 x 4.5'],
    ['double-D', '6', '8', 'double-D 8 x 6'],
    ['D', '3/16 in', '1/4 in', 'D 6.35 x 4.7625'],
  ])(
    'a %s of %s over its flats in a round of %s is what size says of it',
    async (section, size, blank, named) => {
      const flags = ['--section', section, '--size', size, '--blank', blank, '--rated', '5100', '--yes'];
      expect((await world.run(['new', 'd.yaml', '--force', ...flags])).code).toBe(0);
      const job = readFileSync(join(world.folder, 'd.yaml'), 'utf8');
      const said = /section: (\{flats: .*\]\})/.exec((await world.run(['size', named])).out)?.[1] ?? 'none';
      expect(job).toContain(`section: ${said}`);
      const plan = await world.run(['plan', 'd.yaml']);
      expect([plan.code, plan.out.includes('sound on paper')]).toEqual([0, true]);
    },
  );

  test.each([
    [
      ['--size', '4.4 to 4.5', '--blank', '6'],
      /one size over the flats; what it may be off is punch.tolerance/,
    ],
    [
      ['--size', '4.5', '--blank', '4.5'],
      /the round is more than 4.5 mm over the flats, and less than twice that/,
    ],
    [['--size', '4.5', '--blank', '9'], /less than twice that/],
  ])('a D of %j is not taken', async (flags, why) => {
    const { code, err } = await world.run(['new', '--section', 'D', '--rated', '5100', '--yes', ...flags]);
    expect([code, err]).toEqual([2, expect.stringMatching(why)]);
  });

  test.each([
    [[]],
    [['--section', 'square', '--size', '8.05', '--machine', 'knee-mill-by-hand']],
    [['--section', 'triangle', '--size', '3.2', '--machine', 'knee-mill-by-hand', '--length', '25 mm']],
    [['--section', 'octagon', '--size', '1/2 in', '--machine', 'clamped-rotary-mill']],
    [['--units', 'inch', '--size', '1/4', '--length', '3/8', '--wheel', '3', '--machine', 'inch-mill']],
    [['--title', 'odd: "title" # (5)']],
  ])('%j plans and posts as it stands', async (flags) => {
    expect((await world.run(['new', 'job.yaml', '--rated', '5100', ...flags])).code).toBe(0);
    const planned = await world.run(['plan', 'job.yaml']);
    expect(planned.err.replace(/^warning.*\n/gm, '')).toBe('');
    expect(planned.code).toBe(0);
    expect((await world.run(['post', 'job.yaml', '-o', 'job.nc'])).code).toBe(0);
  });

  test('asks on a terminal, takes the usual for an empty answer, asks again for one it does not know', async () => {
    const answers = [
      'cap',
      '',
      'circle',
      'SQUARE',
      'knee-mill-by-hand',
      '',
      '8 mm',
      '',
      '',
      '9 mm',
      '12 mm',
      '',
      '',
      'the white one',
      'a60j8v',
      '5100',
    ];
    const { out, code } = await world.run(['new'], '', answers);
    expect(code).toBe(0);
    expect(out).toContain('title: "cap"');
    expect(out).toContain('section: square\n  acrossFlats: 8 mm');
    expect(out).toContain('flatLength: 16 mm');
    // 9 mm does not cover 8 sqrt 2 = 11.31 of corners, and was asked again.
    expect(out).toContain('size: 12 mm');
    expect(out).toContain('device: {kind: indexing block, sides: 4}');
    // Words are no marking, and it was asked for again.
    expect(out).toContain('marking: a60j8v');
    // Editors find what may stand in a job.
    const [, schema = ''] = /^# yaml-language-server: \$schema=(file:.*)\n/.exec(out) ?? [];
    expect(JSON.parse(readFileSync(new URL(schema), 'utf8'))).toMatchObject({ type: 'object' });
  });

  test("limits of one's own are a size 60 % of the way up, and a tolerance", async () => {
    const own = ['new', 'own.yaml', '--section', 'hex', '--size', '6.02 to 6.12', '--rated', '5100', '--yes'];
    expect((await world.run(own)).code).toBe(0);
    expect(file('own.yaml')).toMatch(
      /acrossFlats: 6\.08 mm .*\n {2}tolerance: \{plus: 0\.04 mm, minus: 0\.06 mm\}/,
    );
    expect((await world.run(['plan', 'own.yaml'])).code).toBe(0);
    // A unit behind one goes for both, and no digit of a tolerance is lost.
    const inch = ['new', '--section', 'hex', '--rated', '5100', '--yes', '--size'];
    expect((await world.run([...inch, '0.25 to 0.255 in'])).out).toMatch(
      /acrossFlats: 6\.426 mm .*\n {2}tolerance: \{plus: 0\.051 mm, minus: 0\.076 mm\}/,
    );
    expect((await world.run([...inch, '6.0205 to 6.0265'])).out).toMatch(
      /acrossFlats: 6\.024 mm .*\n {2}tolerance: \{plus: 0\.0025 mm, minus: 0\.0035 mm\}/,
    );
    for (const [said, why] of [
      ['6.0201 to 6.0204', /nobody grinds within/],
      ['6.1 +0 -0.08', /write "6\.1 \+0 -0\.08" as its limits/],
    ] as const) {
      const { code, err } = await world.run([...inch, said]);
      expect([code, err]).toEqual([2, expect.stringMatching(why)]);
    }
    const wrong = await world.run([
      'new',
      '--section',
      'hex',
      '--size',
      '6.1 to 6',
      '--rated',
      '5100',
      '--yes',
    ]);
    expect([wrong.code, wrong.err]).toEqual([
      2,
      expect.stringContaining('the first is not less than the second'),
    ]);
  });

  test.each([
    ['hex6', 'hex 6'],
    ['5mm hex', 'hex 5'],
    ['M6', 'hex 5'],
    ['hex 1/4"', 'hex 1/4 in'],
    ['square 3/8 in', 'square 10'],
  ])('a socket as people say it: %s', async (said, name) => {
    const { out, code } = await world.run(['new', '--socket', said, '--rated', '5100', '--yes']);
    expect(code).toBe(0);
    expect(out).toMatch(new RegExp(`^ {2}socket: ${name} `, 'm'));
  });

  test('none is none in whatever letters', async () => {
    const { code, out } = await world.run([
      'new',
      '--socket',
      'None',
      '--marking',
      'NONE',
      '--rated',
      '5100',
      '--yes',
    ]);
    expect([code, out]).toEqual([0, expect.stringMatching(/section: hex/)]);
  });

  test('a size that is a hex and a square says so', async () => {
    const { code, err } = await world.run(['new', '--socket', '1/4"', '--rated', '5100', '--yes']);
    expect([code, err]).toEqual([2, expect.stringMatching(/is a hex and a square; write hex 1\/4/)]);
  });

  test('an inch machine gives an inch set: bar, wheel, infeeds, stock in sixteenths', async () => {
    const { out, code } = await world.run(['new', '--machine', 'inch-mill', '--rated', '5100', '--yes']);
    expect(code).toBe(0);
    for (const line of [
      'units: inch',
      'diameter: 3 in',
      'sineBar: 5 in',
      'roughInfeed: 0.0008 in',
      'size: 5/16 in',
    ])
      expect(out).toContain(line);
    write('inch.yaml', out);
    expect((await world.run(['post', 'inch.yaml', '-o', 'inch.nc'])).code).toBe(0);
  });

  test.each([
    ['hand-mill', 'dial'],
    ['hand-lathe-chucked-punch', 'dial'],
    ['hand-lathe-tool-post', 'dial'],
    ['lathe-chucked-punch', 'post'],
    ['knee-mill-by-hand', 'post'],
  ])('on %s the starter job goes to %s as it stands', async (machine, command) => {
    const flags = ['--machine', machine, '--rated', '5100', '--yes'];
    const { code, err } = await world.run(['new', 'job.yaml', ...flags]);
    expect([code, err]).toEqual([0, expect.stringMatching(/written/)]);
    expect((await world.run([command, 'job.yaml', '-o', 'out'])).code).toBe(0);
  });

  test('a file that is there is told before anything is asked', async () => {
    write('job.yaml', 'mine');
    const { code, err } = await world.run(['new', 'job.yaml'], '', ['cap']);
    expect([code, err]).toEqual([
      2,
      'job.yaml is there already; --force replaces it, or give another name\n',
    ]);
    expect(file('job.yaml')).toBe('mine');
  });

  test.each([
    [['--rated', '3000', '--speed', '4000'], /4000 is more than the 3000 rev\/min marked/],
    [['--blank', '5 mm'], /5 mm does not cover the corners, 5\.843 mm across; 6 mm or more does/],
    [['--relief', '1 deg'], /the punch would rub/],
    [['--relief', '30 deg'], /at 30 deg nothing is left/],
    [['--length', '70'], /nothing is left where flats of 70 end/],
    [['--rim', '50'], /a rim of 50 is no cup's on a wheel of 75 mm/],
    [['--speed', '100'], /outside what the spindle runs, 300 to 6000/],
    [['--rated', '0 m/s'], /0 m\/s: must be more than 0/],
  ])('%j would not be safe and is refused', async (flags, said) => {
    const { code, err } = await world.run(['new', 'job.yaml', '--rated', '5100', ...flags]);
    expect(code).toBe(2);
    expect(err).toMatch(said);
    expect(existsSync(join(world.folder, 'job.yaml'))).toBe(false);
  });

  test('the speed marked on the wheel is never made up', async () => {
    const { code, err } = await world.run(['new', 'job.yaml', '--yes']);
    expect([code, err]).toEqual([2, expect.stringContaining('say --rated: speed marked on the wheel')]);
    expect(existsSync(join(world.folder, 'job.yaml'))).toBe(false);
    const asked = await world.run(['new', 'job.yaml'], '', Array(40).fill(''));
    expect([asked.code, asked.err]).toEqual([2, expect.stringContaining('no answer: speed marked')]);
  });

  test('--socket takes section and size from the tables; the starter job plans without a warning', async () => {
    const { code } = await world.run(['new', 'bolt.yaml', '--socket', 'hex 6', '--rated', '5100']);
    expect(code).toBe(0);
    expect(file('bolt.yaml')).toContain('  socket: hex 6 ');
    const plan = await world.run(['plan', 'bolt.yaml']);
    expect([plan.code, plan.err]).toEqual([0, '']);
    expect(plan.out).toMatch(/across flats 6\.092 mm/);
    const both = await world.run(['new', '--socket', 'hex 6', '--size', '6 mm']);
    expect([both.code, both.err]).toEqual([2, expect.stringContaining('leave --section and --size out')]);
    const unknown = await world.run(['new', '--socket', 'hex 7']);
    expect([unknown.code, unknown.err]).toEqual([2, expect.stringMatching(/--socket: no table has "hex 7"/)]);
  });

  test('answers that make no job are refused with the key', async () => {
    const { code, err } = await world.run(['new', 'job.yaml', '--rated', '5100', '--relief', '2 mm']);
    expect(code).toBe(2);
    expect(err).toMatch(/--relief: "2 mm" is not an angle/);
    expect(existsSync(join(world.folder, 'job.yaml'))).toBe(false);
  });
});

describe('size', () => {
  test('a driving square says which drive it is, and what a plain one would be', async () => {
    const { out } = await world.run(['size', 'square', '10']);
    expect(out).toContain(
      'This is the 3/8 in drive; a plain square of 10 mm: flatwright size plain square 10',
    );
    expect((await world.run(['size', 'hex5'])).out).not.toContain('drive; a plain');
    const plain = await world.run(['size', 'plain', 'square', '10']);
    expect(plain.out).toMatch(/Grind to +10 mm across flats, 14\.142 mm across corners\n/);
    expect(plain.out).toContain('In a job: section: square, acrossFlats: 10 mm\n');
  });

  test.each([
    [
      ['triangle', '6'],
      /6 mm inscribed, 9 mm flat to corner/,
      'section: triangle\n  inscribedDiameter: 6 mm',
      13,
    ],
    [
      ['7', 'sides', '8'],
      /8 mm inscribed, 8\.44 mm flat to corner/,
      'section: {sides: 7}\n  inscribedDiameter: 8 mm',
      9.5,
    ],
    [['octagon', '1/2 in'], /0\.5 in across flats/, 'section: octagon\n  acrossFlats: 0.5 in', 15],
    [
      ['D', '6', 'x', '4.5'],
      /4\.5 mm over the flat; the round of 6 mm stays, its lands without relief/,
      'section: {flats: [{at: 0, distance: 1.5 mm}]}\n  corners: as the blank leaves them',
      6,
    ],
    [
      ['double-D', '8', '6'],
      /6 mm across flats; the round of 8 mm stays, its lands without relief/,
      'section: {flats: [{at: 0, distance: 3 mm}, {at: 180, distance: 3 mm}]}\n  corners: as the blank leaves them',
      8,
    ],
  ] as const)("%j: a section of one's own, and the job it names plans", async (argv, said, keys, blank) => {
    const { out, code } = await world.run(['size', ...argv]);
    expect(code).toBe(0);
    expect(out).toMatch(said);
    const [, inJob = ''] = /In a job: (.*)/.exec(out) ?? [];
    for (const key of keys.split('\n')) expect(inJob).toContain(key.trim());
    const job = file(HEX)
      .replace('section: hex\n  acrossFlats: 5.06', keys)
      .replace('size: 8,', `size: ${blank},`)
      .replace('sequence: opposite pairs', 'sequence: in turn');
    const plan = await world.run(['plan', '-', '--json'], job);
    expect([plan.code, plan.err]).toEqual([0, '']);
  });

  test.each([
    [['D', '6', '2'], /a round of 6 mm with 2 mm across has no flat; from 3 mm to 6 mm does/],
    [['99', 'sides', '6'], /from 3 to 12 flats, not 99/],
    [['triangle', '0'], /a size of 0 is none/],
    [['D', '0.25', 'x', '0.05', 'in'], /a round of 0\.25 in with 0\.05 in across has no flat/],
    [['cube', '6'], /names no socket; .* or a section of your own: triangle 6, plain square 10/],
  ] as const)('%j is refused with what would do', async (argv, said) => {
    const { out, err, code } = await world.run(['size', ...argv]);
    expect([out, code]).toEqual(['', 2]);
    expect(err).toMatch(said);
  });

  test('the nearest drill, of all or of those at hand, with what it takes of each flat', async () => {
    expect((await world.run(['size', 'M6'])).out).toMatch(
      /mild and alloy steel +5\.194 +5\.2 mm +1\.021 +36 +6\.4 +1\.\d kN/,
    );
    const { out } = await world.run(['size', 'hex', '5', '--drills', '5,no']);
    expect(out).toBe('');
    const own = await world.run(['size', 'hex', '5', '--drills', '5,5.1,13/64 in']);
    expect(own.out).toMatch(/mild and alloy steel +5\.194 +13\/64 in +1\.013/);
    expect((await world.run(['help', 'socket'])).out).toMatch(/the form is twisted/);
  });

  test('hex 5 in words without quotes, and how to write it in a job', async () => {
    const { out, code } = await world.run(['size', 'hex', '5']);
    expect(code).toBe(0);
    expect(out).toMatch(/Grind to +5\.092 mm across flats, 5\.88 mm across corners; 60 % of the way up/);
    expect(out).toMatch(/Worn out +at 5\.02 mm\n +Regrinds +5, each 0\.15 mm off the face/);
    expect(out).toMatch(/next stock 6\.5 mm, 1\/4 in/);
    expect(out).toContain('In a job: socket: hex 5\n');
  });

  test('the size it says is the size a job with that socket gets', async () => {
    const { out } = await world.run(['size', 'hex 1/4 in', '--json']);
    const job = file(HEX).replace('section: hex\n  acrossFlats: 5.06', 'socket: hex 1/4 in');
    const plan = await world.run(['plan', '-', '--json'], job);
    const distance = (JSON.parse(plan.out) as { flats: { distanceMm: number }[] }).flats[0]?.distanceMm ?? 0;
    expect(2 * distance).toBeCloseTo((JSON.parse(out) as { grindToMm: number }).grindToMm, 9);
  });

  test('every socket of the list can be asked for by its name', async () => {
    const { out } = await world.run(['size', '--list', '--json']);
    const names = (JSON.parse(out) as { name: string }[]).map(({ name }) => name);
    expect(names.length).toBeGreaterThan(40);
    for (const name of names) expect((await world.run(['size', name])).code).toBe(0);
  });

  test.each<[string[], RegExp]>([
    [['hex', '5.5'], /no table has "hex 5\.5"; the nearest are/],
    [[], /which socket\? for example: flatwright size hex 5/],
    [['hex', '5', '--share', '1.5'], /--share: "1\.5" must be from 0 to 1/],
    [['hex', '5', '--relief', '0'], /--relief: .* must be more than 0 and less than 20 deg/],
    [
      ['hex', '5', '--length', '90'],
      /nothing is left at its end, 90 mm behind the face; flats of less than 58\.313 mm/,
    ],
    [['hex', '5', '--face-cut', 'thin'], /"thin" lacks a number|no unit/],
  ])('%j is refused with what would do', async (argv, said) => {
    const { code, err, out } = await world.run(['size', ...argv]);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(said);
  });
});

describe('plan --errors', () => {
  test('shows the terms, both sums, the share in tolerance and what to do', async () => {
    const { out, code } = await world.run(['plan', 'samples/bearing-cap-square-8.yaml', '--errors']);
    expect(code).toBe(0);
    expect(out).toMatch(/stop reading +0\.003 mm +3\.0 +0\.0/);
    expect(out).toMatch(/root of squares +10\.8 +11\.2/);
    expect(out).toMatch(/worst case +26\.2 +17\.1/);
    expect(out).toMatch(/20000 punches, seed 1: 99\.\d % have every size in tolerance/);
    expect(out).toMatch(/Weighs most +block size: measure the block across its sides/);
  });

  test('--json holds the budget; a bad count is refused', async () => {
    const { out } = await world.run(['plan', HEX, '--errors', '--punches', '100', '--json']);
    const { errors } = JSON.parse(out) as { errors: { terms: unknown[]; simulated: { punches: number } } };
    expect([errors.terms.length, errors.simulated.punches]).toEqual([12, 100]);
    const bad = await world.run(['plan', HEX, '--errors', '--punches', 'many']);
    expect([bad.code, bad.err]).toEqual([
      2,
      expect.stringMatching(/--punches: "many" must be a whole number/),
    ]);
  });
});

describe('sheet', () => {
  test('writes the page that lies beside the sample, and says what its program is', async () => {
    const { code, out, err } = await world.run(['sheet', HEX, '-o', 'hex.html']);
    expect([code, out, err]).toEqual([0, '', 'hex.html: written, its program is sound on paper\n']);
    expect(file('hex.html')).toBe(file('samples/stem-bolt-hex-5.html'));
    const again = await world.run(['sheet', HEX, '-o', 'hex.html']);
    expect([again.code, again.err]).toEqual([2, expect.stringContaining('--force replaces it')]);
  });

  test('--text and --json say the same parts', async () => {
    const { out } = await world.run(['sheet', HEX, '--text']);
    expect(out).toMatch(
      /^stem-bolt hex 5: set-up sheet\n\nSOUND ON PAPER {2}the program this job posts \(stem-bolt-hex-5\.nc\), 2058 lines, mark [0-9A-F]{4}-[0-9A-F]{4}\n/,
    );
    expect(out).toMatch(/Gauge blocks +[\d. +]+ = 4\.362 mm/);
    const json = JSON.parse((await world.run(['sheet', HEX, '--json'])).out) as {
      verdict: string;
      parts: { id: string }[];
    };
    expect([json.verdict, json.parts.length]).toEqual(['run', 11]);
  });

  test("another's program is dry-run on the page; refused, the page is written and the exit code is 1", async () => {
    write(
      'mine.nc',
      file('samples/stem-bolt-hex-5.nc').replace('G1 Z4.298 F1200.0\n', 'G1 Z3.818 F1200.0\n'),
    );
    const { code, err } = await world.run(['sheet', HEX, '--program', 'mine.nc', '-o', 'mine.html']);
    expect([code, err]).toEqual([1, 'mine.html: written, its program is REFUSED\n']);
    expect(file('mine.html')).toContain('<strong>Do not run.</strong> mine.nc is refused');
  });

  test('a job that cannot be planned gives its errors and no page', async () => {
    write('steep.yaml', file(HEX).replace('relief: 2.5 deg', 'relief: 0.8 deg'));
    const { code, err } = await world.run(['sheet', 'steep.yaml', '-o', 'x.html']);
    expect(code).toBe(1);
    expect(err).toMatch(/error relief-below-tilt: .*\nsteep\.yaml: no sheet is written\n$/s);
    expect(existsSync(join(world.folder, 'x.html'))).toBe(false);
  });

  test.each<[string[], RegExp]>([
    [[HEX], /say where the page goes with -o FILE\.html/],
    [[HEX, '-o', HEX, '--force'], /this is read by the same command/],
    [[HEX, '--program', 'none.nc', '-o', 'x.html'], /none\.nc: cannot be read: there is no such file/],
  ])('%j', async (argv, said) => {
    const { code, err } = await world.run(['sheet', ...argv]);
    expect(code).toBe(2);
    expect(err).toMatch(said);
  });
});

describe('help', () => {
  test.each(['new', 'plan', 'post', 'check', 'adjust', 'page', 'trace', 'size', 'sheet'])(
    '%s --help teaches with an example',
    async (command) => {
      const { out, code } = await world.run([command, '--help']);
      expect(code).toBe(0);
      expect(out).toMatch(new RegExp(`Examples?:\n  flatwright ${command} `));
      expect(out).toContain('--help');
    },
  );

  test('no command shows where to start, and the caution', async () => {
    const { out } = await world.run(['--help']);
    expect(out).toMatch(/flatwright new my-hex\.yaml/);
    expect(out).toMatch(/A grinding wheel can burst/);
  });
});

test('the real process: exit codes, streams apart, a reader that stops early is no fault', () => {
  const bin = fileURLToPath(new URL('../../bin/flatwright.js', import.meta.url));
  const start = (argv: readonly string[]) =>
    spawnSync(process.execPath, [bin, ...argv], { cwd: world.folder, encoding: 'utf8' });
  const plan = start(['plan', HEX]);
  expect([plan.status, plan.stderr]).toEqual([0, '']);
  expect(plan.stdout).not.toContain('\u001b[');
  expect(start(['plan', 'none.yaml']).status).toBe(2);
  const cut = spawnSync('sh', ['-c', `"${process.execPath}" "${bin}" post ${HEX} | head -1`], {
    cwd: world.folder,
    encoding: 'utf8',
  });
  expect(cut.stdout).toBe('(JOB: STEM-BOLT HEX 5)\n');
  expect(cut.stderr).toBe('');
});

describe('going on', () => {
  test('post --from writes a program that says so; check takes it at its word, aloud', async () => {
    const posted = await world.run(['post', HEX, '--from', 'finish flat 4', '-o', 'rest.nc']);
    expect(posted.code).toBe(0);
    expect(file('rest.nc')).toMatch(/^\(RE-ENTRY: FROM FINISH FLAT 4\)\n/);
    expect(file('rest.nc')).toMatch(
      /\(STANDING: FLATS 2 3 5 6 AT 2\.560 MM FROM THE AXIS, 5\.12\d MM ACROSS\)\n/,
    );
    expect(file('rest.nc')).toMatch(/FLATS READ AS SAID WITHIN A ROUGH INFEED, ELSE STOP/);
    const checked = await world.run(['check', 'rest.nc', '--job', HEX]);
    expect(checked.code).toBe(0);
    expect(checked.out).toMatch(/standing-believed: .*measure them before you start/);
  });

  test('check --left writes how the punch stands, and the rest is checked from there without a word', async () => {
    await world.run(['post', HEX, '-o', 'whole.nc']);
    const lines = file('whole.nc').split('\n');
    const stop = lines.findIndex((line) => line.startsWith('(MEASURING STOP'));
    write('first.nc', [...lines.slice(0, stop), 'M5', 'G4 P30.', 'M30', ''].join('\n'));
    const first = await world.run(['check', 'first.nc', '--job', HEX, '--left', 'left.yaml']);
    expect(first.code).toBe(1);
    expect(file('left.yaml')).toMatch(/^# How the punch stands/);
    write('crash.nc', file('first.nc').replace('G1 Z4.298 F1200.0', 'G1 Z3.818 F1200.0'));
    const crash = await world.run(['check', 'crash.nc', '--job', HEX, '--left', 'crash.yaml']);
    expect(crash.err).toMatch(
      /crash\.yaml: not written: the program does worse than stop early \(infeed-in-stock\)/,
    );
    const again = await world.run(['check', 'first.nc', '--job', HEX, '--left', 'left.yaml']);
    expect([again.code, again.err]).toEqual([2, expect.stringContaining('left.yaml: already there')]);
    const rest = await world.run(['post', HEX, '--standing', 'left.yaml', '-o', 'rest.nc']);
    expect([rest.code, rest.err]).toEqual([0, expect.stringMatching(/^rest\.nc: checked/)]);
    const good = await world.run(['check', 'rest.nc', '--job', HEX, '--standing', 'left.yaml']);
    expect(good.out).toMatch(/^SOUND ON PAPER {2}\d+ lines read, nothing against it/);
    // Nobody says here how the punch stands.
    expect((await world.run(['check', 'rest.nc', '--job', HEX])).code).toBe(2);
    const other = await world.run(['post', 'samples/brake-bolt-hex-6.yaml', '--standing', 'left.yaml']);
    expect([other.code, other.err]).toEqual([2, expect.stringContaining('take the file of that punch')]);
    // A smaller punch after all: its flats end further on, where the old ones run out.
    const smaller = file(HEX).replace('acrossFlats: 5.06', 'acrossFlats: 5.0');
    write('small.yaml', smaller);
    const small = await world.run(['post', 'small.yaml', '--standing', 'left.yaml']);
    expect([small.code, small.err]).toEqual([
      1,
      expect.stringMatching(/was left\.yaml made for another size\? .* with punch\.flatLength 9\.95 mm\n$/),
    ]);
    write('small.yaml', smaller.replace('flatLength: 10', 'flatLength: 9.95'));
    const asSaid = await world.run(['post', 'small.yaml', '--standing', 'left.yaml', '-o', 'small.nc']);
    expect([asSaid.code, asSaid.err]).toEqual([0, expect.stringMatching(/^small\.nc: checked/)]);
  });

  test('a blank that is milled already: plan says what it saves', async () => {
    write(
      'milled.yaml',
      file(HEX).replace('size: 8, stickOut: 24', 'size: 8, stickOut: 24, flats: { over: 0.25 }'),
    );
    const { out } = await world.run(['plan', 'milled.yaml']);
    expect(out).toMatch(/Standing\s+all flats 0\.25 mm over, which saves [5-9] min/);
  });

  test.each([
    [['--from', 'flat 9'], /the plan does not come to flat 9/],
    [['--from', 'the middle'], /write flat 4, or finish flat 4/],
    [['--from', 'flat 1'], /that is the whole program, leave it out/],
    [['--flats', '4;5'], /write the numbers of the flats, such as 4,5/],
    [['--flats', '4,11'], /there is no flat 11/],
    [['--flats', '4', '--from', 'flat 2'], /take one of --from, --finish-only, --flats and --standing/],
    [['--standing', 'none.yaml'], /none\.yaml: cannot be read/],
  ])('post %j is refused, and says what would do', async (options, message) => {
    const { code, err } = await world.run(['post', HEX, ...options]);
    expect([code, err]).toEqual([2, expect.stringMatching(message)]);
  });
});

describe('adjust', () => {
  const READ = ['--over', '1-4=5.150', '2-5=5.148', '3-6=5.151'];

  test('says where the flats stand and what to type; -o writes what finishes them, checked from there', async () => {
    const { code, out, err } = await world.run(['adjust', HEX, ...READ, '-o', 'fin.nc', '--log']);
    expect(code).toBe(0);
    expect(out).toMatch(/^stem-bolt hex 5: roughed, as you read it\n/);
    expect(out).toMatch(/ 1 +2\.575 +\+0\.045 +1\d +X 35\.612 +Z 2\.573\n/);
    expect(out).toMatch(/lower the zero: add -0\.015 mm to Z of the work offset/);
    expect(err).toMatch(
      /^fin\.nc: checked, \d+ lines, \d+ passes; fin\.standing\.yaml says how the punch stands\n/,
    );
    expect(file('fin.nc')).toMatch(/^\(RE-ENTRY: FROM A STANDING FILE\)\n/);
    // The sheet of what is left speaks of that very program.
    const sheet = ['sheet', HEX, '--text', '--standing', 'fin.standing.yaml', '--program', 'fin.nc'];
    expect((await world.run(sheet)).out).toMatch(/SOUND ON PAPER {2}the program this job posts/);
    const good = await world.run(['check', 'fin.nc', '--job', HEX, '--standing', 'fin.standing.yaml']);
    expect([good.code, good.out]).toEqual([
      0,
      expect.stringMatching(/^SOUND ON PAPER .* nothing against it/),
    ]);
    const alone = await world.run(['check', 'fin.nc', '--job', HEX]);
    expect([alone.code, alone.err]).toEqual([2, expect.stringMatching(/give it with --standing/)]);
  });

  test('the log is added to and never rewritten: one line an entry, whatever stood there', async () => {
    const log = HEX.replace('.yaml', '.log.yaml');
    await world.run(['adjust', HEX, ...READ, '--log']);
    const before = file(log);
    write(log, `${before}\n- {"at":"cut off in the mi`);
    await world.run(['adjust', HEX, ...READ, '--log']);
    const lines = file(log)
      .split('\n')
      .filter((line) => line !== '');
    expect(file(log).startsWith(before)).toBe(true);
    expect(JSON.parse((lines.at(-1) ?? '').slice(2))).toMatchObject({
      stage: 'roughed',
      over: [{ flat: 1, read: 5.15 }, {}, {}],
    });
  });

  test('asked one by one: what cannot be is asked again, an empty answer leaves the pair out', async () => {
    const { code, out } = await world.run(['adjust', HEX], '', ['0.2028', '', '5.150', '5.148', '']);
    expect(code).toBe(0);
    expect(out).toMatch(/3 +not read/);
  });

  test('too small: refused, and what it still makes is said', async () => {
    const { code, err } = await world.run([
      'adjust',
      HEX,
      '--over',
      '1-4=5.02',
      '2-5=5.02',
      '3-6=5.02',
      '-o',
      'no.nc',
    ]);
    expect(code).toBe(1);
    expect(err).toMatch(
      /under the least size: no program finishes that; as it stands it makes hex 5; ground down hex 3\/16 in with 0\.194 mm to come off, or hex 4 with 0\.925 mm to come off/,
    );
  });

  test('a machine that runs through its stops gets a set', async () => {
    const { code, err } = await world.run([
      'adjust',
      'samples/valve-cap-triangle.yaml',
      ...['--over', '1=4.91', '2=4.91', '3=4.91', '-o', 'cap.nc'],
    ]);
    expect([code, err]).toEqual([0, expect.stringMatching(/^cap-01\.nc, cap-02\.nc, cap-03\.nc: checked/)]);
  });

  test.each([
    [['--over', '1-3=5.15'], /opposite flat 1 lies flat 4; write 1-4=/],
    [['--over', '7-8=5.15'], /there is no flat 7/],
    [['--over', 'five'], /write 1-4=5\.113, or 1-4@5=4\.68/],
    [['--over', '1-4=0.2028'], /is it in inches\?/],
    [['--over', '1-4=5,15'], /decimal comma/],
    [['--over', '1-4=5.15', '--warm', 'hot'], /kelvin over the micrometer/],
    [['--over', '1-4=5.15', '--indicator', 'x'], /write 1=\+0\.012/],
    [['--over', '1-4=5.15', '-o', 'x.nc'], /flats 2, 3, 5, 6 are not read yet/],
    [[], /no reading is given/],
  ])('adjust %j is refused, and says what would do', async (options, message) => {
    const { code, err } = await world.run(['adjust', HEX, ...options]);
    expect([code, err]).toEqual([2, expect.stringMatching(message)]);
  });
});

describe('which program a sheet speaks of', () => {
  test("the job's own, given as a file, is the job's own; changed by a digit it is not", async () => {
    const own = await world.run(['sheet', HEX, '--text', '--program', 'samples/stem-bolt-hex-5.nc']);
    expect(own.out).toMatch(/SOUND ON PAPER {2}the program this job posts/);
    write('mine.nc', file('samples/stem-bolt-hex-5.nc').replace('(ROUGH FLAT 1)', '(ROUGH FLAT ONE)'));
    const other = await world.run(['sheet', HEX, '--text', '--program', 'mine.nc']);
    expect(other.out).toMatch(/SOUND ON PAPER {2}mine\.nc, 2058 lines\nThe program is not the plan's/);
  });

  test('a file of its name that is something else is named, and the right one is not', async () => {
    expect((await world.run(['sheet', HEX, '--text'])).out).not.toMatch(/is another program/);
    write('samples/stem-bolt-hex-5.nc', '(another)\n');
    const { out } = await world.run(['sheet', HEX, '--text']);
    expect(out.replaceAll(/\s+/g, ' ')).toMatch(
      /samples\/stem-bolt-hex-5\.nc is there and is another program than this sheet speaks of/,
    );
  });
});

test('page writes the one file, and never over another unasked', async () => {
  const written = await world.run(['page', '-o', 'flatwright.html']);
  expect([written.code, written.err]).toEqual([
    0,
    expect.stringMatching(/^flatwright\.html: written, \d+ kB; open it in any browser\n$/),
  ]);
  expect(file('flatwright.html')).toMatch(/^<!DOCTYPE html>/);
  expect((await world.run(['page', '-o', 'flatwright.html'])).code).toBe(2);
  expect((await world.run(['page'])).code).toBe(2);
});

test('what is said of several flats in the same words is said once', async () => {
  write('thin.yaml', file(HEX).replace('size: 8,', 'size: 5,'));
  const { err } = await world.run(['plan', 'thin.yaml']);
  expect(err.match(/flat-outside-blank/g)?.length).toBe(1);
  expect(err).toMatch(/each of flats 1, 2, 3, 4, 5, 6 lies 2\.53 mm from the axis/);
});
