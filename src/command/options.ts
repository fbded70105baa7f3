/** Options that several commands share. */
import { Option } from 'commander';
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
import type { Dimension, Inside } from '../quantity/dimension.js';
import type { LengthUnit, Mm, Rad } from '../quantity/unit.js';
import { Leave, UNUSABLE } from './exit.js';

export const machineOption = (): Option =>
  new Option('--machine <name>', 'plan for this machine profile instead of the one the job names');

export const blockDeleteOption = (): Option =>
  new Option(
    '--block-delete <switch>',
    'how the block-delete switch stands; on skips blocks that begin with /',
  ).choices(['on', 'off']);

/** A length a person typed after an option. @throws Leave if it is none, or less than 0. */
export function lengthOption(option: string, text: string, units: LengthUnit): Mm {
  const length = quantityOption(option, text, 'length', units);
  if (length >= 0) return length;
  throw new Leave(UNUSABLE, `${option}: ${text} must not be negative`);
}

/** An angle a person typed after an option. @throws Leave if it is none. */
export const angleOption = (option: string, text: string): Rad =>
  quantityOption(option, text, 'angle', 'deg');

function quantityOption<D extends Dimension>(
  option: string,
  text: string,
  dimension: D,
  bare: string,
): Inside[D] {
  try {
    return readQuantity(text, dimension, bare);
  } catch (error) {
    if (error instanceof QuantityError) throw new Leave(UNUSABLE, `${option}: ${error.message}`);
    throw error;
  }
}
