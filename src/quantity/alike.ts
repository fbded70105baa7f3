/** Things that say the same of themselves share a row, in the order of the first of them. */
export function alike<Thing>(
  things: readonly Thing[],
  say: (thing: Thing) => string,
): readonly (readonly [said: string, things: readonly [Thing, ...Thing[]]])[] {
  const groups = new Map<string, [Thing, ...Thing[]]>();
  for (const thing of things) {
    const said = say(thing);
    const group = groups.get(said);
    if (group === undefined) groups.set(said, [thing]);
    else group.push(thing);
  }
  return [...groups];
}
