/** A text and the name to call it by in errors. Reading asks for texts; whoever calls it fetches them. */
export interface TextFile {
  readonly file: string;
  readonly text: string;
}

/** Parses each text once: a thousand jobs read the same tables. What `parse` throws is thrown every time. */
export function parsedOnce<Parsed>(parse: (file: TextFile) => Parsed): (file: TextFile) => Parsed {
  const known = new Map<string, Parsed>();
  return (file) => {
    const before = known.get(file.text);
    if (before !== undefined) return before;
    const parsed = parse(file);
    known.set(file.text, parsed);
    return parsed;
  };
}
