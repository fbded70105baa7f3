/** A text and the name to call it by in errors. The job layer reads texts; whoever calls it fetches them. */
export interface TextFile {
  readonly file: string;
  readonly text: string;
}
