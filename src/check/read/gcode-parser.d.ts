/** What of gcode-parser is used here; the package ships no types. */
declare module 'gcode-parser' {
  export interface ParsedLine {
    readonly words: readonly (readonly [letter: string, value: number | string])[];
    /** Block number, absent if the line has none. */
    readonly ln?: number;
  }
  export function parseLine(line: string): ParsedLine;
}
