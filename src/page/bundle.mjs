/**
 * Makes dist/page.html: the whole core, the shipped texts and the page in one file that needs no network.
 *   node src/page/bundle.mjs
 * gcode-parser's Node imports have no use in a page; of mathjs the parser is in it.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { notices } from './notices.mjs';
import { noNode, noUnused, parserInside } from './plugins.mjs';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const { version } = JSON.parse(readFileSync(here('../../package.json'), 'utf8'));

const { outputFiles, metafile } = await build({
  entryPoints: [here('main.ts')],
  bundle: true,
  minify: true,
  format: 'iife',
  target: 'es2022',
  charset: 'utf8',
  write: false,
  metafile: true,
  loader: { '.yaml': 'text', '.css': 'text' },
  plugins: [noNode, noUnused, ...parserInside],
  define: {
    PLAYER: JSON.stringify(readFileSync(here('../../shared/sheet/player.js'), 'utf8').trimEnd()),
  },
  logLevel: 'error',
});
const escaped = (text) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

// No text of ours or of a library may end the script it stands in.
const script = outputFiles[0].text.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--');
const css = readFileSync(here('page.css'), 'utf8').trimEnd();
mkdirSync(here('../../dist'), { recursive: true });
writeFileSync(
  here('../../dist/page.html'),
  `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:; worker-src blob:; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Flatwright</title>
<style>
${css}
</style>
</head>
<body>
<header>
<h1>Flatwright</h1>
<p class="sub">Grinding the flats of rotary-broach punches, ${version}. Everything is worked out here in this page; nothing is sent anywhere, and the last job is kept in this browser alone.</p>
<p class="caution">A grinding wheel can burst and a spindle takes fingers. Ring-test the wheel, never run it over its marked speed, guard on, eyes protected, stand clear at spin-up, hands in only when it stands still; draw off the dust, cover the ways. The marking of the wheel maker, local rules and qualified practice come first.</p>
</header>
<noscript><p>This page computes in your browser and needs script. Nothing is sent anywhere.</p></noscript>
<div id="page"></div>
<footer><details><summary>Licences of the libraries inside</summary><pre tabindex="0">${escaped(notices(metafile))}</pre></details></footer>
<script type="text/plain" id="code">
${script}
</script>
<script>
// The words above are on the screen before the rest is read.
requestAnimationFrame(() =>
  setTimeout(() => {
    const script = document.createElement('script');
    script.textContent = document.getElementById('code').textContent;
    document.body.append(script);
  }),
);
</script>
</body>
</html>
`,
);
