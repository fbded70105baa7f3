/**
 * Metal removed, mm3: the blank less what the flats leave, by cross-sections. Along a ray from the axis,
 * at angle f from a flat's normal, a cut takes away rho between rho cos f >= s (the plane) and the
 * roots of (q^2 + sin^2 f) rho^2 - 2 k q rho + k^2 - Rw^2 <= 0 (under the round rim), with
 * q = cos f sin t, k = uc + d cos t, uc the wheel's centre at the end of the stroke, d the depth.
 * Up to the depth where the lowest cut of a flat covers its full width, cuts that ran farther lie inside it.
 * A plain wheel takes away what lies above the plane before the end of its stroke, and within its circle behind: along the
 * normal from the axis of that circle less sqrt(Rg^2 - a^2), a how far the circle's centre lies beside the normal there.
 * Source: circle geometry in the wheel frame. Midpoint rule over rays and depths.
 */
import { type Mm, type Mm3, mm3, type Rad } from '../quantity/unit.js';
import { type Blank, blankFlats } from '../section/blank.js';

/** A finished cut: direction of the flat, its distance at the front face, the wheel's centre at the end. */
export interface Cut {
  readonly at: Rad;
  readonly distance: Mm;
  readonly centreEnd: Mm;
}

/** What was cut, with which wheel, at which slope. */
export interface CutPunch {
  readonly blank: Blank;
  /** The lowest cut of each flat. */
  readonly flats: readonly Cut[];
  /** Cuts that ran farther than the flat. */
  readonly farther: readonly Cut[];
  readonly wheelRadius: Mm;
  /** Radius of a plain wheel's periphery; 0 of a cup. */
  readonly periphery: Mm;
  readonly slope: Rad;
  /** Depth where the shallowest flat's full width ends, and a depth past the last metal cut. */
  readonly full: Mm;
  readonly end: Mm;
}

/** Enough for 2 in 10,000: by 2880 rays and 200 depths the samples' volumes differ by no more. */
const FRONT = { rays: 360, depths: 8 } as const;
const BEHIND = { rays: 180, depths: 12 } as const;
/** Steps of depth behind are never longer, mm: flats that stood before may run on far there. */
const LONGEST_STEP = 0.12;

export function removedVolume(punch: CutPunch): Mm3 {
  const { flats, farther, full, end } = punch;
  const behind = { ...BEHIND, depths: Math.max(BEHIND.depths, Math.ceil((end - full) / LONGEST_STEP)) };
  return mm3(
    part(punch, flats, FRONT, 0, full) +
      part(punch, [...flats, ...farther], behind, full, Math.max(full, end)),
  );
}

function part(
  { blank, slope, wheelRadius, periphery }: CutPunch,
  cuts: readonly Cut[],
  { rays, depths }: { readonly rays: number; readonly depths: number },
  from: number,
  to: number,
): number {
  const step = (to - from) / depths;
  if (step <= 0) return 0;
  const flats = blankFlats(blank);
  const directions = cuts.map(({ at }) => [Math.cos(at), Math.sin(at)] as const);
  const [sinT, cosT, tanT] = [Math.sin(slope), Math.cos(slope), Math.tan(slope)];
  const stretches = new Stretches(cuts.length);
  /** How far out from the axis, along the flat's normal, a plain wheel begins to take away at a depth. */
  const underPeriphery = ({ distance, centreEnd }: Cut, depth: number): number => {
    const plane = distance - depth * tanT;
    if (plane * sinT - depth * cosT >= centreEnd) return plane;
    const [du, dw] = [centreEnd + depth * cosT, distance * cosT + periphery - depth * sinT];
    const along = du * sinT + dw * cosT;
    const aside = du * cosT - dw * sinT;
    return Math.abs(aside) >= periphery
      ? Number.POSITIVE_INFINITY
      : along - Math.sqrt(periphery ** 2 - aside ** 2);
  };
  let area = 0;
  for (let ray = 0; ray < rays; ray += 1) {
    const angle = (2 * Math.PI * (ray + 0.5)) / rays;
    const [cosRay, sinRay] = [Math.cos(angle), Math.sin(angle)];
    let outer = flats.length === 0 ? blank.size / 2 : Number.POSITIVE_INFINITY;
    for (const flat of flats) {
      const along = Math.cos(angle - flat.at);
      if (along > 0) outer = Math.min(outer, flat.distance / along);
    }
    for (let i = 0; i < depths; i += 1) {
      const depth = from + (i + 0.5) * step;
      stretches.clear();
      for (let c = 0; c < cuts.length; c += 1) {
        const cut = cuts[c];
        const direction = directions[c];
        if (cut === undefined || direction === undefined) continue;
        const cos = cosRay * direction[0] + sinRay * direction[1];
        if (cos <= 0) continue;
        if (periphery > 0) {
          stretches.add(underPeriphery(cut, depth) / cos, outer);
          continue;
        }
        const plane = (cut.distance - depth * tanT) / cos;
        if (plane >= outer) continue;
        const q = cos * sinT;
        const k = cut.centreEnd + depth * cosT;
        const square = q * q + 1 - cos * cos;
        const under = k * k * q * q - square * (k * k - wheelRadius * wheelRadius);
        if (under <= 0) continue;
        const root = Math.sqrt(under);
        stretches.add(Math.max(plane, (k * q - root) / square), Math.min(outer, (k * q + root) / square));
      }
      area += stretches.squares();
    }
  }
  return (area * Math.PI * step) / rays;
}

/** Stretches along a ray, kept in one place for all rays: an inner loop makes no lists. */
class Stretches {
  private readonly from: Float64Array;
  private readonly to: Float64Array;
  private count = 0;

  constructor(most: number) {
    this.from = new Float64Array(most);
    this.to = new Float64Array(most);
  }

  clear(): void {
    this.count = 0;
  }

  /** Sorted in by where it begins. */
  add(from: number, to: number): void {
    if (to <= from) return;
    let i = this.count;
    for (; i > 0 && (this.from[i - 1] ?? 0) > from; i -= 1) {
      this.from[i] = this.from[i - 1] ?? 0;
      this.to[i] = this.to[i - 1] ?? 0;
    }
    this.from[i] = from;
    this.to[i] = to;
    this.count += 1;
  }

  /** Sum of rho_b^2 - rho_a^2 over what they cover together. */
  squares(): number {
    let [sum, reached] = [0, 0];
    for (let i = 0; i < this.count; i += 1) {
      const start = Math.max(this.from[i] ?? 0, reached);
      const end = this.to[i] ?? 0;
      if (end > start) sum += end * end - start * start;
      reached = Math.max(reached, end);
    }
    return sum;
  }
}
