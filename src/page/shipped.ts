/** The shipped profiles, tables and samples, as the page carries them. */

import doubleD from '../../samples/axle-key-double-d.yaml';
import square from '../../samples/bearing-cap-square-8.yaml';
import brake from '../../samples/brake-bolt-hex-6.yaml';
import hubCap from '../../samples/by-hand/hub-cap-square-6.yaml';
import crank from '../../samples/crank-bolt-hex-8.yaml';
import fender from '../../samples/fender-bolt-hex-4.yaml';
import pentagon from '../../samples/pedal-pin-pentagon-lathe.yaml';
import quarterInch from '../../samples/seat-clamp-hex-quarter-inch.yaml';
import hex from '../../samples/stem-bolt-hex-5.yaml';
import triangle from '../../samples/valve-cap-triangle.yaml';
import gauges from '../../shared/gauge-blocks.yaml';
import grinding from '../../shared/grinding.yaml';
import grinderRail from '../../shared/machines/bench-grinder-rail.yaml';
import benchMill from '../../shared/machines/bench-mill-rotary.yaml';
import clampedMill from '../../shared/machines/clamped-rotary-mill.yaml';
import handChucked from '../../shared/machines/hand-lathe-chucked-punch.yaml';
import handLathe from '../../shared/machines/hand-lathe-tool-post.yaml';
import handMill from '../../shared/machines/hand-mill.yaml';
import handMillInch from '../../shared/machines/hand-mill-inch.yaml';
import handSurface from '../../shared/machines/hand-surface-grinder.yaml';
import hobby from '../../shared/machines/hobby-three-axis.yaml';
import horizontal from '../../shared/machines/horizontal-mill-rotary.yaml';
import inchMill from '../../shared/machines/inch-mill.yaml';
import kneeMill from '../../shared/machines/knee-mill-by-hand.yaml';
import chucked from '../../shared/machines/lathe-chucked-punch.yaml';
import lathe from '../../shared/machines/lathe-with-tool-post.yaml';
import router from '../../shared/machines/router-spindle-mill.yaml';
import turning from '../../shared/machines/turning-control-tool-post.yaml';
import css from '../../shared/sheet/sheet.css';
import sockets from '../../shared/sockets.yaml';
import { InputError } from '../file/problem.js';
import type { JobTexts } from '../file/read.js';
import { suggestion } from '../file/validate.js';
import type { PageAssets } from '../sheet/page.js';

declare const PLAYER: string;

export const MACHINES: Readonly<Record<string, string>> = {
  'bench-grinder-rail': grinderRail,
  'bench-mill-rotary': benchMill,
  'clamped-rotary-mill': clampedMill,
  'hand-lathe-chucked-punch': handChucked,
  'hand-lathe-tool-post': handLathe,
  'hand-mill': handMill,
  'hand-mill-inch': handMillInch,
  'hand-surface-grinder': handSurface,
  'hobby-three-axis': hobby,
  'horizontal-mill-rotary': horizontal,
  'inch-mill': inchMill,
  'knee-mill-by-hand': kneeMill,
  'lathe-chucked-punch': chucked,
  'lathe-with-tool-post': lathe,
  'router-spindle-mill': router,
  'turning-control-tool-post': turning,
};

export const SAMPLES: Readonly<Record<string, string>> = {
  'stem-bolt-hex-5': hex,
  'bearing-cap-square-8': square,
  'axle-key-double-d': doubleD,
  'brake-bolt-hex-6': brake,
  'crank-bolt-hex-8': crank,
  'fender-bolt-hex-4': fender,
  'pedal-pin-pentagon-lathe': pentagon,
  'seat-clamp-hex-quarter-inch': quarterInch,
  'valve-cap-triangle': triangle,
  'hub-cap-square-6, by hand': hubCap,
};

export const assets: PageAssets = { css: css.trimEnd(), player: PLAYER };

const shared = (name: string, text: string) => () => ({ file: `shared/${name}`, text });

/** A file that was opened. */
export interface OpenedFile {
  readonly name: string;
  readonly text: string;
}

/** What was opened beside the job: plain values, so that another thread can have it too. */
export interface Opened {
  readonly machines: readonly OpenedFile[];
  /** Jobs that this one speaks of. */
  readonly jobs: readonly OpenedFile[];
  /** What is in the drawers. */
  readonly shop: OpenedFile | 'none';
  /** How the punch stands. */
  readonly standing: OpenedFile | 'none';
}

export const NOTHING_OPENED: Opened = { machines: [], jobs: [], shop: 'none', standing: 'none' };

/** The last part of a path: a job may name a file by where it lay. */
export const baseName = (path: string): string => path.replace(/^.*[\\/]/, '');

const missing = (name: string, message: string): never => {
  throw new InputError([{ file: name, line: 0, column: 0, key: '', message }]);
};

/** The texts a job may need, shipped or opened. */
export const textsWith = ({ machines, jobs, shop }: Opened): JobTexts => ({
  machine: (name) => {
    const own = machines.find((each) => each.name === baseName(name));
    const text = own?.text ?? MACHINES[name];
    return text === undefined
      ? missing(
          name,
          `no machine profile of this name; ${suggestion(name, [...machines.map((each) => each.name), ...Object.keys(MACHINES)])}, or open the file of your own`,
        )
      : { file: name, text };
  },
  job: (name) => {
    const found = jobs.find((each) => each.name === baseName(name));
    return found === undefined
      ? missing(name, `the job ${baseName(name)} is not here; open its file too`)
      : { file: name, text: found.text };
  },
  shop: () =>
    shop === 'none'
      ? missing('shop.yaml', 'the job draws on a shop file; open it too')
      : { file: shop.name, text: shop.text },
  grinding: shared('grinding.yaml', grinding),
  sockets: shared('sockets.yaml', sockets),
  gaugeBlocks: shared('gauge-blocks.yaml', gauges),
});
