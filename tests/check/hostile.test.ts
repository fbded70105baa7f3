/**
 * Programs that would hurt and once were called good (tests/hostile), each refused now at the block that would do it,
 * and honest ones that once were refused (tests/honest), each passed now, with the warnings named and no others.
 */
import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { checkPrograms } from '../../src/check/dry-run.js';
import { checkSentence } from '../../src/wording/check.js';
import { honest, hostile, jobOf, PASSED, REFUSED, textOf } from '../arbitrary/hostile.js';

describe('programs that would hurt', () => {
  test.each(REFUSED)('%s (job %s): %s in line %i', (program, job, code, line) => {
    const report = checkPrograms([{ name: 'p.nc', text: textOf(hostile, program) }], jobOf(job));
    expect(report.verdict).toBe('refused');
    const [first] = report.findings.filter(({ severity }) => severity === 'error');
    expect([first?.code, first?.place.line]).toEqual([code, line]);
    for (const finding of report.findings) expect(checkSentence(finding, 'mm')).not.toMatch(/undefined|NaN/);
  });

  test('a set whose first file hides its retract behind a lone return', () => {
    const programs = [1, 2, 3, 4, 5, 6].map((i) => ({
      name: `${i}.nc`,
      text: textOf(hostile, `set-return-alone-${i}`),
    }));
    const report = checkPrograms(programs, jobOf('hb'));
    expect(report.verdict).toBe('refused');
    expect(report.findings.map(({ code }) => code)).toContain('return-alone');
  });

  test('a profile that leaves Y out of its work zero is refused by name', () => {
    expect(() => jobOf('rny')).toThrow(/workZero: y must stand in both travel and workZero/);
  });

  test('every program of the folder is in the list', () => {
    const files = readdirSync(hostile).filter((file) => file.endsWith('.nc') && !file.startsWith('set-'));
    const listed = [...REFUSED.map(([program]) => `${program}.nc`), 'workzero-without-y.nc'];
    expect(files.toSorted()).toEqual(listed.toSorted());
  });
});

describe('honest programs', () => {
  test.each(PASSED)('%s (job %s)', (program, job, warnings) => {
    const report = checkPrograms([{ name: 'p.nc', text: textOf(honest, program) }], jobOf(job));
    expect(report.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(report.verdict).toBe('run');
    // Some are headed as another job than the one they are held against.
    const codes = report.findings.map(({ code }) => code).filter((code) => code !== 'other-job');
    // A program of several stops is told of its height once a start.
    expect([...new Set(codes)].toSorted()).toEqual([...new Set(warnings)].toSorted());
  });

  test('T1 M6 and G43 H1, where the profile says that the wheel is tool 1', () => {
    const job = jobOf('r');
    const asTool = { ...job.machine, program: { ...job.machine.program, tool: 1 } };
    const programs = [{ name: 'p.nc', text: textOf(honest, 'hand-T1M6-G43').replace('G49 ', '') }];
    expect(checkPrograms(programs, { ...job, machine: asTool }).verdict).toBe('run');
    expect(checkPrograms(programs, job).verdict).toBe('refused');
  });

  test('every program of the folder is in the list', () => {
    const files = readdirSync(honest).filter((file) => file.endsWith('.nc'));
    const listed = [...PASSED.map(([program]) => `${program}.nc`), 'hand-T1M6-G43.nc'];
    expect(files.toSorted()).toEqual(listed.toSorted());
  });
});
