/** Options that several commands share. */
import { Option } from 'commander';

export const machineOption = (): Option =>
  new Option('--machine <name>', 'plan for this machine profile instead of the one the job names');

export const blockDeleteOption = (): Option =>
  new Option(
    '--block-delete <switch>',
    'how the block-delete switch stands; on skips blocks that begin with /',
  ).choices(['on', 'off']);
