/** The library with the files it ships: machine profiles, tables, style and player of the sheet. */
export { jobTexts, profileText, sheetAssets, shippedMachines } from './command/shipped.js';
export * from './index.js';
