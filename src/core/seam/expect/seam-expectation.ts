import { seededRandom } from '../../math/seeded-random.js';
import type { PlacePair } from '../best-places.js';
import type { SeamMatch } from '../seam-match.js';
import { missModel, missModelOfPlaces } from './miss-model.js';
import type { Unevenness } from './unevenness.js';
import { drawSeams, figuresOfEdges, figuresOfWorst, type MismatchFigures } from './worst-edge.js';

/** What the worst edge of a seam may miss by, mm along the seam. */
export interface WorstFigures {
  /** From the cloth's own unevenness alone: everything laid, cut and sewn exactly. */
  readonly cloth: MismatchFigures;
  /** With the halves slipping against each other as they are laid, cut and sewn. */
  readonly sewn: MismatchFigures;
}

/** What a seam may miss by with its halves cut from any two repeats. */
export interface SeamExpectation {
  /** One for each crossing, from the cloth alone; null where other colours meet. */
  readonly edges: readonly (MismatchFigures | null)[];
  /** Null where not all edges meet their like: expecting little beside them would say nothing. */
  readonly worst: WorstFigures | null;
}

/** The same seam always gets the same figures, whatever else is looked at. */
const SEED = 1;

/** handlingMm: how far laying, cutting and sewing slip one half along the seam against the other, nine times in ten. */
export function seamExpectation(match: SeamMatch, uneven: Unevenness, handlingMm: number): SeamExpectation {
  const { crossings, sides, request } = match;
  const model = missModel(crossings, sides, request, uneven);
  const figures = figuresOfEdges(model);
  const edges = crossings.map((one, i) => (one.meets ? figures[i] : null));
  if (crossings.length === 0 || !crossings.every((one) => one.meets)) return { edges, worst: null };
  return { edges, worst: worstOf(model, handlingMm) };
}

/** What the edges seen of a pair of places may miss by: as measured, with the wander of every edge along its own stripe. */
export function pairExpectation(
  pair: PlacePair,
  match: SeamMatch,
  uneven: Unevenness,
  handlingMm: number,
): WorstFigures {
  const seen = pair.crossings.filter((one) => one.seen);
  return worstOf(missModelOfPlaces(seen, match.sides, match.request, uneven.wander), handlingMm);
}

function worstOf(model: ReturnType<typeof missModel>, handlingMm: number): WorstFigures {
  const random = seededRandom(SEED);
  const seams = drawSeams(model, random);
  const cloth = figuresOfWorst(seams, 0, random);
  return { cloth, sewn: handlingMm > 0 ? figuresOfWorst(seams, handlingMm, random) : cloth };
}
