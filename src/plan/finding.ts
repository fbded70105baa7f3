/**
 * What the planner has against a job, as data. An error refuses the plan, a warning only says so.
 * `key` is the job key to change; the numbers are what a fix needs. Wording lives in wording/plan.
 */
import type { JobFault, JobFaultCode } from '../job/fault.js';
import type { LinearAxis } from '../job/layout.js';
import type { Mm, Mm2PerS, Mm3, Mm3PerS, MmPerMin, MPerS, Rad, RevPerMin, Watt } from '../quantity/unit.js';

/** What a job is refused for by itself; job/fault. */
type FaultNumbers = {
  readonly [Code in JobFaultCode]: Omit<Extract<JobFault, { readonly code: Code }>, 'code'>;
};

interface Numbers extends FaultNumbers {
  // errors
  'flats-open': { readonly flats: readonly number[] };
  'flat-vanishes': { readonly flat: number; readonly depth: Mm };
  'standing-short': { readonly flat: number; readonly length: Mm; readonly wouldDo: Mm };
  'standing-under': { readonly flat: number; readonly distance: Mm; readonly least: Mm };
  'flat-outside-blank': { readonly flat: number; readonly distance: Mm; readonly blank: Mm };
  'blank-too-small': { readonly by: Mm; readonly wouldDo: Mm };
  'wheel-too-small': { readonly diameter: Mm; readonly wouldDo: Mm };
  'nose-in-reach': { readonly gap: Mm; readonly clearance: Mm; readonly wouldDo: Mm };
  'travel-short': { readonly axis: LinearAxis; readonly need: Mm; readonly have: Mm };
  'travel-outside': {
    readonly axis: LinearAxis;
    readonly from: Mm;
    readonly to: Mm;
    readonly least: Mm;
    readonly most: Mm;
  };
  'stroke-too-deep': {
    readonly flat: number;
    readonly strokes: number;
    readonly most: number;
    readonly infeed: Mm | 'none';
    /** A removal rate is held, so no infeed is asked for. */
    readonly held: boolean;
  };
  'infeed-too-fine': { readonly infeed: Mm; readonly lastDigit: Mm };
  'decimals-too-few': { readonly decimals: number; readonly wouldDo: number };
  'limit-too-low': {
    readonly limit: Mm3PerS;
    readonly least: Mm3PerS;
    readonly infeed: Mm;
    readonly strokeSpeed: MmPerMin;
  };
  'wears-too-fast': { readonly share: number; readonly most: number; readonly ratio: number };
  // warnings
  'burn-risk': {
    readonly specific: Mm2PerS;
    readonly most: Mm2PerS;
    readonly coolant: 'dry' | 'wet';
    readonly infeed: Mm;
    /** The same removal rate in a stroke that does not burn; `none` if the machine has none so fast. */
    readonly cooler: { readonly strokeSpeed: MmPerMin; readonly infeed: Mm } | 'none';
  };
  'power-short': { readonly power: Watt; readonly most: Watt; readonly infeed: Mm };
  'blank-bends': {
    readonly bending: Mm;
    readonly share: number;
    readonly most: number;
    readonly infeed: Mm;
  };
  'wear-unproved': { readonly loss: Mm; readonly most: Mm };
  'standing-inside': { readonly at: Rad; readonly by: Mm };
  'nothing-to-touch': { readonly flat: number };
  'dressing-late': { readonly flat: number; readonly volume: Mm3; readonly most: Mm3 };
  'wrong-abrasive': { readonly material: string; readonly abrasive: string; readonly instead: string };
  /** A grade harder than is usual for the blank. */
  'grade-hard': {
    readonly grade: string;
    readonly material: string;
    readonly coolant: string;
    readonly usual: readonly [string, string];
    readonly grit: readonly [number, number];
  };
  /** Marked faster than wheels of this bond usually are: a speed read wrong. */
  'marked-fast': { readonly surface: MPerS; readonly usual: MPerS; readonly bond: string };
  'temper-risk': { readonly temper: number; readonly over: number; readonly byAxis: boolean };
  'wear-unseen': { readonly bias: Mm; readonly tolerance: Mm };
  'under-socket': { readonly size: Mm; readonly least: Mm; readonly minus: Mm };
  'over-other-limit': { readonly size: Mm; readonly most: Mm; readonly table: string };
  'figures-assumed': {
    readonly material: string;
    readonly abrasive: string;
    readonly asMaterial: string;
    readonly asAbrasive: string;
  };
  'wheel-too-narrow': { readonly width: Mm; readonly wouldDo: Mm };
  /** An infeed finer than the dial shows. */
  'dial-too-coarse': { readonly asked: Mm; readonly shows: Mm };
  'guard-meets-nose': { readonly by: Mm; readonly wouldDo: Mm };
  'guard-meets-blank': { readonly rises: Mm; readonly back: Mm };
  'little-to-hold': { readonly left: Mm; readonly wouldDo: Mm | 'none' };
  'punch-too-short': { readonly length: Mm; readonly flats: Mm };
  'shank-odd': { readonly shank: Mm; readonly blank: Mm };
  'thin-clearance': { readonly clearance: Rad; readonly wouldDo: Rad };
  'slow-wheel': {
    readonly surface: MPerS;
    readonly least: MPerS;
    readonly wouldDo: RevPerMin;
    readonly most: RevPerMin;
  };
  'long-spark-out': { readonly strokes: number; readonly most: number };
  'heavy-infeed': { readonly infeed: Mm; readonly most: Mm };
  'spindle-over-nose': { readonly by: Mm };
  'span-only': Record<never, never>;
}

export type PlanCode = keyof Numbers;

export type PlanFinding = {
  [Code in PlanCode]: {
    readonly code: Code;
    readonly severity: 'error' | 'warning';
    readonly key: string;
  } & Numbers[Code];
}[PlanCode];
