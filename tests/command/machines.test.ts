/** The list of profiles, one in full, and the interview that makes a new one. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { interview, type Question } from '../../src/command/interview.js';
import { shippedMachines } from '../../src/command/shipped.js';
import { createWorld, type World } from './fake-io.js';

let world: World;
beforeEach(() => {
  world = createWorld();
});
afterEach(() => world.remove());

test('every shipped profile is a line of the list, within a screen', async () => {
  const { code, out } = await world.run(['machines']);
  expect(code).toBe(0);
  for (const name of shippedMachines()) expect(out).toMatch(new RegExp(`^  ${name} `, 'm'));
  expect(out).toMatch(/hobby-three-axis +mill +by hand +control, no M0 +mm/);
  expect(out).toMatch(/bench-grinder-rail +bench grinder +by hand +hand wheels +mm/);
  for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(86);
});

test.each(shippedMachines())('%s is shown in full', async (name) => {
  const { code, out } = await world.run(['machines', name]);
  expect(code).toBe(0);
  expect(out).toMatch(/^ {2}Spindle +\d+ rev\/min to \d+ rev\/min/m);
  expect(out).toMatch(/^ {2}(Program|Infeed dial) /m);
});

test('one of your own is checked, a fault with its place and what would do', async () => {
  const { code, err } = await world.run(['machines', 'nowhere']);
  expect([code, err]).toEqual([2, expect.stringMatching(/no machine profile of this name/)]);
});

describe('a new one, asked for', () => {
  const MILL = [
    'our mill',
    '',
    '',
    '1',
    '-300 to 0',
    '-200, 0',
    '-150 to 0',
    '300',
    '6000',
    '20',
    '',
    '',
    '',
    'a',
    'no',
    '',
    '',
  ];

  test('a mill with a rotary axis; it is read back and can be planned on', async () => {
    const { code, err } = await world.run(['machines', '--new', 'mine.yaml'], '', MILL);
    expect([code, err]).toEqual([0, 'mine.yaml: written; next: flatwright machines mine.yaml\n']);
    const shown = await world.run(['machines', './mine.yaml']);
    expect(shown.out).toMatch(/A axis, standard.*turns only with the\s+wheel at rest/s);
    const job = 'samples/stem-bolt-hex-5.yaml';
    expect((await world.run(['plan', job, '--machine', './mine.yaml'])).code).toBe(0);
  });

  test('hand wheels in inches; wrong answers are asked again and nothing is lost', async () => {
    const answers = [
      'the old one',
      'INCH',
      'hand wheels',
      'nonsense',
      'mill, tool along +X',
      '10, 0',
      '0, 10',
      '0 to 6',
      '0 to 8',
      '100',
      '50',
      '4000',
      '30',
      '0',
      '0.001',
      '0.1',
      '',
    ];
    const { code, err } = await world.run(['machines', '--new', 'old.yaml'], '', answers);
    expect([code, err]).toEqual([0, expect.stringMatching(/^old\.yaml: written/)]);
    const text = readFileSync(join(world.folder, 'old.yaml'), 'utf8');
    expect(text).toContain('infeed: { graduation: 0.001, turn: 0.1, grows: toward the work }');
    expect(text).toContain('x: [0, 10]');
    expect((await world.run(['machines', './old.yaml'])).out).toMatch(/0\.001 in a division, 0\.1 in a turn/);
  });

  test('a lathe that chucks the punch is switched by hand, and nobody is asked', async () => {
    const lathe = [
      'lathe',
      '',
      '',
      'lathe, punch in the spindle, X as diameter',
      '-20, 320',
      '-300, 0',
      '2000',
      '8000',
      '20',
      '',
      '',
    ];
    const good = await world.run(['machines', '--new', 'l.yaml'], '', [...lathe, 'C', '', '', '']);
    expect([good.code, good.err]).toEqual([0, expect.stringMatching(/written/)]);
    expect(readFileSync(join(world.folder, 'l.yaml'), 'utf8')).toContain('switched: by hand');
  });

  test('a bench grinder is only for hand wheels, and a turn is no less than a division', async () => {
    const rail = ['grinder', '', 'a control', 'bench grinder with a rail', 'mill, tool along +X'];
    const rest = ['0, 9', '0, 9', '0, 9', '100', '2000', '9', '', '', '', '', '', ''];
    expect((await world.run(['machines', '--new', 'a.yaml'], '', [...rail, ...rest])).code).toBe(0);
    const wheels = ['w', '', 'hand wheels', 'mill, tool along +X', '0, 9', '0, 9', '0, 9', '1', '2000', '9'];
    const asked = await world.run(['machines', '--new', 'b.yaml'], '', [...wheels, '2', '1', '4', '']);
    expect(asked.code).toBe(0);
    expect(readFileSync(join(world.folder, 'b.yaml'), 'utf8')).toContain('graduation: 2, turn: 4');
  });

  test('where nobody can answer it says what else would do', async () => {
    const { code, err } = await world.run(['machines', '--new', 'mine.yaml']);
    expect([code, err]).toEqual([2, expect.stringMatching(/copy a profile and change it/)]);
  });
});

describe('an interview', () => {
  const questions: readonly Question[] = [
    { key: 'kind', ask: 'kind', choices: () => ['small', 'large'], usual: 'small' },
    { key: 'size', ask: 'size', check: (answer) => (Number(answer) > 0 ? 'good' : `${answer}: more than 0`) },
    { key: 'why', ask: 'why so large', when: ({ kind }) => kind === 'large' },
  ];
  const asked: string[] = [];
  const from = (answers: readonly string[]) => {
    const left = [...answers];
    asked.length = 0;
    return async (question: string) => {
      asked.push(question);
      return left.shift() ?? '';
    };
  };

  test('names in any case, numbers of the list, the usual for nothing', async () => {
    expect(await interview(questions, {}, from(['LARGE', '3', 'because']))).toEqual({
      kind: 'large',
      size: '3',
      why: 'because',
    });
    expect(await interview(questions, {}, from(['2', '3', 'because']))).toMatchObject({ kind: 'large' });
    expect(await interview(questions, {}, from(['', '3']))).toEqual({ kind: 'small', size: '3' });
  });

  test('a wrong answer is told what would do and asked again, the rest stays', async () => {
    expect(await interview(questions, {}, from(['small', '-1', '4']))).toEqual({ kind: 'small', size: '4' });
    expect(asked).toEqual(['kind (small, large) [small]: ', 'size: ', '  -1: more than 0\nsize: ']);
  });

  test('what is given is checked too, and patience ends', async () => {
    await expect(interview(questions, { kind: 'huge' }, 'no terminal')).rejects.toThrow(
      '--kind: "huge" is not one of small, large',
    );
    await expect(interview(questions, {}, 'no terminal')).rejects.toThrow(
      'say --size: size; nobody else can know it',
    );
    await expect(interview(questions, {}, from([]))).rejects.toThrow('no answer: size');
  });
});
