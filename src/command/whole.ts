/** What the bundle of the command holds. */
export { run } from './main.js';
export { processIo } from './process-io.js';
