/** The licences of the libraries in a bundle, as their makers ask. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const modules = fileURLToPath(new URL('../../node_modules/', import.meta.url));

/** @param metafile of esbuild, which says what went in. */
export function notices(metafile) {
  const packages = new Set(
    Object.keys(metafile.inputs).flatMap(
      (file) => /node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(file)?.[1] ?? [],
    ),
  );
  return [...packages]
    .toSorted()
    .map((name) => {
      const folder = `${modules}${name}/`;
      const about = JSON.parse(readFileSync(`${folder}package.json`, 'utf8'));
      const file = readdirSync(folder).find((each) => /^licen[cs]e/i.test(each));
      const text = file === undefined ? '' : readFileSync(`${folder}${file}`, 'utf8').trim();
      return `${name} ${about.version}, ${about.license}\n\n${text}`;
    })
    .join('\n\n----\n\n');
}
