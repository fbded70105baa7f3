/**
 * What a job grinds and with which wheel, as far as cautions hang on it: dust that holds cobalt, wheels that do not
 * ring. Common practice, no source.
 */
import type { Job } from './job.js';

/** Blanks whose dust holds cobalt. */
const COBALT = /carbide|cobalt|\bM ?(35|42)\b|\b(HSS|HS)[- ]?(E|Co)\b/i;
/** Abrasives whose wheels often have a body of metal. */
const METAL_BODY: readonly string[] = ['cubic boron nitride', 'diamond'];

export const holdsCobalt = ({ blank }: Job): boolean => COBALT.test(blank.material);

/** A wheel that may have a body of metal says nothing when tapped. */
export const mayNotRing = ({ figures }: Job): boolean => METAL_BODY.includes(figures.abrasive);
