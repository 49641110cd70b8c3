import { formatLength } from '../../base/length.js';
import type { PlacementAnswer } from '../../place/answer/placement.js';
import type { ClothLength } from '../../place/plan/plan.js';
import type { Remedy } from '../answer/lay-answer.js';
import { laidLengths } from '../answer/lay-record.js';
import { enoughMm } from '../buy/cloth-to-buy.js';
import { type LaySettings, shareOf } from '../effort.js';
import { usedOf } from '../fit/shorten.js';
import { type Fit, fitOn, fitsAll, laidCopies, shortened } from '../lay-copies.js';
import type { ClothInHand, LaidItem } from '../phase/laid-problem.js';
import { joinedStrips } from './joined-strip.js';

/** What does not fit, and what may be tried. */
export interface Misfit {
  readonly answer: PlacementAnswer;
  readonly fit: Fit;
  readonly cloth: ClothInHand;
  /** The answers of the placement that were tried, the one laid first. */
  readonly tried: readonly PlacementAnswer[];
  /** Answers without a wish of the plan, from the weakest on. */
  readonly without: () => Iterable<{ readonly wish: string; readonly answers: readonly PlacementAnswer[] }>;
  readonly itemsOf: (answer: PlacementAnswer) => LaidItem[];
}

/**
 * What would make the pieces fit, in the order tried: a further answer (which is known to fail), a strip joined on the diagonal, the weakest wish given up;
 * and how much more cloth would do, which always stands last.
 */
export async function findRemedies(
  misfit: Misfit,
  settings: LaySettings,
  from: number,
  to: number,
): Promise<Remedy[]> {
  const shares = [0, 0.3, 0.6, 1].map((part) => from + part * (to - from));
  const remedies: Remedy[] = [];
  if (misfit.tried.length > 1)
    remedies.push({
      ...NOTHING,
      kind: 'further-answer',
      answer: misfit.answer.rank,
      message: `None of the ${misfit.tried.length} answers of the placement fits.`,
    });
  const joined = await joinedStrip(misfit, settings, shares[0], shares[1]);
  if (joined !== null) remedies.push(joined);
  if (!joined?.fits) {
    const given = await wishGivenUp(misfit, settings, shares[1], shares[2]);
    if (given !== null) remedies.push(given);
  }
  const more = await moreCloth(misfit, settings, shares[2], shares[3]);
  if (more !== null) remedies.push(more);
  return remedies;
}

const NOTHING = { fits: false, copy: null, wish: null, more_mm: null, lengths: [] } as const;

const lengthsOf = (fit: Fit, cloth: ClothInHand) =>
  laidLengths(cloth.lengths, laidCopies(fit), cloth.firstBandStartMm ?? 0, cloth.marginMm);

/** Each strip in turn, those without a place first. */
async function joinedStrip(
  { answer, fit, cloth }: Misfit,
  settings: LaySettings,
  from: number,
  to: number,
): Promise<Remedy | null> {
  const order = fit.items
    .map((_, k) => k)
    .sort((a, b) => Number(fit.places[a] !== null) - Number(fit.places[b] !== null));
  let tried: string | null = null;
  const spend = shareOf(settings, from, to);
  for (const k of order)
    for (const { parts, atMm } of joinedStrips(fit.items[k])) {
      const { copy } = fit.items[k];
      tried ??= copy;
      const items = fit.items.flatMap((item, i) => (i === k ? [...parts] : [item]));
      const joined = await fitOn(items, cloth, settings.seed, spend);
      if (!fitsAll(joined)) continue;
      return {
        ...NOTHING,
        kind: 'strip-joined',
        fits: true,
        answer: answer.rank,
        copy,
        message: `With ${copy} cut in two and joined on the diagonal ${formatLength(atMm, 'mm')} from its end, all pieces fit. Stripes run on through the join.`,
        lengths: lengthsOf(joined, cloth),
      };
    }
  return tried === null
    ? null
    : {
        ...NOTHING,
        kind: 'strip-joined',
        answer: answer.rank,
        copy: tried,
        message: 'Joining a strip on the diagonal does not make them fit.',
      };
}

async function wishGivenUp(
  { answer, cloth, without, itemsOf }: Misfit,
  settings: LaySettings,
  from: number,
  to: number,
): Promise<Remedy | null> {
  const spend = shareOf(settings, from, to);
  let tried: string | null = null;
  for (const { wish, answers } of without())
    for (const other of answers) {
      tried ??= wish;
      const fit = await fitOn(itemsOf(other), cloth, settings.seed, spend);
      if (!fitsAll(fit)) continue;
      return {
        ...NOTHING,
        kind: 'wish-given-up',
        fits: true,
        answer: other.rank,
        wish,
        message: `Without the wish "${wish}", all pieces fit.`,
        lengths: lengthsOf(fit, cloth),
      };
    }
  return tried === null
    ? null
    : {
        ...NOTHING,
        kind: 'wish-given-up',
        answer: answer.rank,
        wish: tried,
        message: `Giving up the wish "${tried}" does not make them fit.`,
      };
}

/** Of each length in turn so much more that all pieces fit: the least of it. Null: a piece is wider than all of them. */
async function moreCloth(
  { answer, fit, cloth }: Misfit,
  settings: LaySettings,
  from: number,
  to: number,
): Promise<Remedy | null> {
  let best: {
    readonly moreMm: number;
    readonly length: ClothLength;
    readonly fit: Fit;
    readonly cloth: ClothInHand;
  } | null = null;
  const { lengths } = cloth;
  for (const [k, length] of lengths.entries()) {
    const part = (at: number): number => from + ((to - from) * at) / lengths.length;
    const longer = { ...length, lengthMm: length.lengthMm + enoughMm(fit.items, cloth) };
    const on = { ...cloth, lengths: lengths.map((one, i) => (i === k ? longer : one)) };
    const roomy = await fitOn(fit.items, on, settings.seed, shareOf(settings, part(k), part(k + 0.3)));
    if (!fitsAll(roomy)) continue;
    const short = await shortened(roomy, settings.seed, shareOf(settings, part(k + 0.3), part(k + 1)), k);
    const places = short.places.filter((place) => place !== null);
    const moreMm =
      Math.ceil((usedOf(short.compiled, places, k) + cloth.marginMm - length.lengthMm) / 10) * 10;
    if (best !== null && moreMm >= best.moreMm) continue;
    const cut = { ...length, lengthMm: length.lengthMm + moreMm };
    best = {
      moreMm,
      length,
      fit: short,
      cloth: { ...cloth, lengths: lengths.map((one, i) => (i === k ? cut : one)) },
    };
  }
  if (best === null) return null;
  return {
    ...NOTHING,
    kind: 'more-cloth',
    fits: true,
    answer: answer.rank,
    more_mm: best.moreMm,
    message: `With ${formatLength(best.moreMm, 'mm')} more of "${best.length.id}", all pieces fit.`,
    lengths: lengthsOf(best.fit, best.cloth),
  };
}
