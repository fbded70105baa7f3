/** Options that several commands share. */
import { Option } from 'commander';
import { QuantityError, readQuantity } from '../quantity/arithmetic.js';
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
  try {
    const length = readQuantity(text, 'length', units);
    if (length >= 0) return length;
    throw new Leave(UNUSABLE, `${option}: ${text} must not be negative`);
  } catch (error) {
    if (error instanceof QuantityError) throw new Leave(UNUSABLE, `${option}: ${error.message}`);
    throw error;
  }
}

/** An angle a person typed after an option. @throws Leave if it is none. */
export function angleOption(option: string, text: string): Rad {
  try {
    return readQuantity(text, 'angle', 'deg');
  } catch (error) {
    if (error instanceof QuantityError) throw new Leave(UNUSABLE, `${option}: ${error.message}`);
    throw error;
  }
}
