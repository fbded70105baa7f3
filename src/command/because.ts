/** Why the system would not read or write, in words for the person at the machine. */

const systemWords: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'this is a folder, not a file',
  EACCES: 'no permission',
  ENOSPC: 'the disk is full',
  ENOTDIR: 'a part of this path is no folder',
  EROFS: 'this place cannot be written to',
};

export const because = (error: unknown): string => {
  const code = (error as NodeJS.ErrnoException).code ?? '';
  return systemWords[code] ?? (error instanceof Error ? error.message : String(error));
};
