/**
 * The rim's wear while a program runs, for jobs that compensate it: each stroke's layer, from the stock this
 * program left so far, costs the rim V / (G A). Such a program tells the machine lower heights than the rim
 * runs at; where the job does not compensate, the wheel is taken as it was.
 */
import type { Job } from '../../job/job.js';
import type { Floor } from '../../job/standing.js';
import { type Mm, mm } from '../../quantity/unit.js';
import { depthOf, distanceFromHeight } from '../../wheel/frame.js';
import { greatestWidth, type Layer, layerVolume, meanEnd, type Stage } from '../../wheel/layer.js';
import { runOutBehind } from '../../wheel/periphery.js';
import { lossOf, rimLoss } from '../../wheel/wear.js';
import type { IndexRecord } from './stock.js';

export interface Wear {
  /** Height the rim has lost since it was last set; 0 unless the job compensates. */
  readonly lost: () => Mm;
  /** The rim is set anew, at a measuring stop. */
  readonly setAnew: () => void;
  /** Takes note of a stroke at `record` before its stock changes; `records` holds every index ground. */
  readonly stroke: (record: IndexRecord, records: readonly IndexRecord[], cut: Floor) => void;
}

/** What a stroke takes: the blank and the other flats as they stand, the layer, and the depth to which it runs. */
export interface Taken {
  readonly stage: Stage;
  readonly layer: Layer;
  readonly end: Mm;
}

/** The layer that `cut` takes at `record`, before its stock changes; `nothing` if it meets none. */
export function layerTaken(
  job: Job,
  record: IndexRecord,
  records: readonly IndexRecord[],
  cut: Floor,
): Taken | 'nothing' {
  const slope = job.punch.relief;
  const distance = ({ stock }: IndexRecord): Mm | undefined => {
    const lowest = stock.floors.at(-1);
    return lowest === undefined ? undefined : distanceFromHeight(mm(lowest.w), slope);
  };
  const to = distanceFromHeight(mm(cut.w), slope);
  const from = distance(record) ?? mm(Number.POSITIVE_INFINITY);
  if (from <= to) return 'nothing';
  return {
    stage: {
      blank: job.blank,
      slope,
      flats: records.flatMap((other) => {
        const ground = distance(other);
        return other === record || ground === undefined ? [] : [{ at: other.at, distance: ground }];
      }),
    },
    layer: { at: record.at, from, to },
    end: depthOf(mm(cut.reach), mm(cut.w), slope),
  };
}

/** The rim's wear through a program, mm of height, by the same rule the job's figures give. */
export function createWear(job: Job): Wear {
  let level = mm(0);
  return {
    lost: () => lossOf(level, job.grinding.roughInfeed).taken,
    setAnew: () => {
      level = mm(0);
    },
    stroke: (record, records, cut) => {
      if (job.grinding.wear !== 'compensate') return;
      const taken = layerTaken(job, record, records, cut);
      if (taken === 'nothing') return;
      const { stage, layer, end } = taken;
      const width = greatestWidth(stage, layer.at, layer.to, end);
      const removed = layerVolume(
        stage,
        layer,
        meanEnd(
          end,
          width,
          job.wheel,
          runOutBehind(job.wheel.periphery, record.stock.support, mm(cut.reach), cut.w, job.punch.relief),
        ),
      );
      level = mm(level + rimLoss(job, removed));
    },
  };
}
