/** The section seen from the tip: blank, finished section, flats numbered as they are ground, work zero. */
import type { Job } from '../../job/job.js';
import type { Plan } from '../../plan/plan.js';
import { sayIn } from '../../quantity/say.js';
import { mm, rad } from '../../quantity/unit.js';
import { type Blank, blankFlats, circumradius } from '../../section/blank.js';
import { normal, type Section } from '../../section/flat.js';
import { acrossFlat, outlinePoints } from '../../section/outline.js';
import { corners } from '../../section/polygon.js';
import type { Markup } from '../html.js';
import { circle, dimension, label, line, type Point, picture, polygon } from './svg.js';

/** The section as it lies under the wheel first: flat 1 up. */
const upright = ({ punch }: Job, section: Section): Section => {
  const turn = punch.section[0]?.at ?? 0;
  return section.map(({ at, distance }) => ({ at: rad(at - turn), distance }));
};

/** The blank as it lies with flat 1 up. */
const turnedBlank = ({ blank, punch }: Job): Blank => ({
  ...blank,
  turned: rad(blank.turned - (punch.section[0]?.at ?? 0)),
});

function blankOutline({ job }: Plan): Markup {
  const flats = upright(job, blankFlats(job.blank));
  if (flats.length === 0) return circle([0, 0], job.blank.size / 2, 'dashed');
  return polygon(
    corners(flats).map(({ y, z }): Point => [y, -z]),
    'dashed',
  );
}

/** @returns an SVG of the section, in mm, flat 1 up. */
export function drawSection(plan: Plan): Markup {
  const { job } = plan;
  const say = sayIn(job.units);
  const section = upright(job, job.punch.section);
  const R = circumradius(job.blank);
  const font = R * 0.24;
  const numbers = section.map(({ at }, i) => {
    const out = normal(at);
    const far = R + font * 0.9;
    return label([out.y * far, -out.z * far + font * 0.35], `${i + 1}`, font);
  });
  const first = section[0]?.distance ?? mm(0);
  const across = acrossFlat(job.punch.section, job.blank, 0);
  const x = R * 1.62;
  const cross = R * 0.18;
  const body = [
    blankOutline(plan),
    polygon(
      outlinePoints(section, turnedBlank(job)).map(({ y, z }): Point => [y, -z]),
      'metal',
    ),
    line([-cross, 0], [cross, 0], 'axis'),
    line([0, -cross], [0, cross], 'axis'),
    ...numbers,
    line([R * 1.36, -first], [x + R * 0.08, -first], 'faint'),
    line([R * 1.36, across - first], [x + R * 0.08, across - first], 'faint'),
    dimension([x, -first], [x, across - first], R * 0.08),
    label([x + font * 0.4, (across - 2 * first) / 2 + font * 0.35], say.length(across), font, 'start'),
  ];
  const half = R + font * 2;
  const describe = `Section seen from the tip, ${section.length} flats numbered as they are ground, ${say.length(across)} across flat 1`;
  return picture([-half, -half, half + x + font * 5.6, 2 * half], describe, body);
}
