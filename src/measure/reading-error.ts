/** Readings that cannot be: `message` says which, why, and what would do. */
export class ReadingError extends Error {
  override readonly name = 'ReadingError';
}
