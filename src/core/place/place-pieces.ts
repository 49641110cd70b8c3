import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import type { Piece } from '../pieces/piece/pieces-file.js';
import { type KnownUnevenness, knownUnevenness } from './answer/join-expectation.js';
import { type BandLine, repeatedBands, seenBands } from './cloth/band-line.js';
import { type PlacingCloth, placingCloth, type StripesOfCloth } from './cloth/placing-cloth.js';
import type { AskedCloth } from './miss/asked-cloth.js';
import { axisProblems } from './plan/axis-problems.js';
import { checkPieceList, checkPlan } from './plan/check-plan.js';
import { UnknownName } from './plan/names.js';
import type { Plan } from './plan/plan.js';
import { type FoundJoin, findJoins, planTerms } from './plan/plan-terms.js';
import { type Names, namesIn, nearestWords, wishWords } from './plan/wish-words.js';
import { sameToTheEye } from './same-placing.js';
import { conflictingMusts } from './search/conflicting-musts.js';
import { distinct, type FoundPlacing, findPlacings } from './search/find-placings.js';
import type { CopyChoices, OffsetRange, PlacingProblem, Term } from './search/problem.js';
import type { CopyShape } from './shape/copy-shape.js';
import { layOptions } from './shape/lay-options.js';
import { shapeOfCopy } from './shape/shape-of-copy.js';

/** Where the pieces of a plan may lie, best first. */
export interface Placings {
  /** Every copy in its stripe frame, in the order of the pieces. */
  readonly shapes: readonly CopyShape[];
  /** Null: plain cloth. */
  readonly cloth: AskedCloth | null;
  /** The plan's joins, their seams found. */
  readonly joins: readonly FoundJoin[];
  /** Null where the model knows nothing of it, and on plain cloth. */
  readonly uneven: KnownUnevenness | null;
  /** The plan's wishes as the search weighs them, in their order. */
  readonly terms: readonly Term[];
  /** One for each way that one-way cloth may run. */
  readonly problems: readonly PlacingProblem[];
  /** The cloth was taken as one-way. */
  readonly oneWay: boolean;
  /** At least one, at most five. */
  readonly found: readonly FoundPlacing[];
  /** What a person should know before trusting the answers. */
  readonly warnings: readonly PlacingWarning[];
}

export interface PlacingWarning {
  readonly code: string;
  readonly message: string;
}

/** Answers that are worth a maker's look side by side. */
const MOST_ANSWERS = 5;

/**
 * Finds where on the cloth each copy of the pieces must lie. model: null for plain cloth. Refuses a plan that names what is not there, or asks
 * of the cloth what it cannot have; and, with reason `no-placing`, musts that cannot be met together.
 *
 * @example
 * import { readFile } from 'node:fs/promises';
 * import { parsePieces, parsePlan, placementOf, placePieces, typedCloth } from 'stripewright';
 *
 * const pieces = parsePieces(await readFile('samples/pieces/tunic.pieces.json', 'utf8'));
 * const plan = parsePlan(
 *   JSON.stringify({
 *     format: 'stripewright.plan',
 *     version: 1,
 *     units: 'mm',
 *     cloth: { model: 'bands.json' },
 *     pieces: 'tunic.pieces.json',
 *     wishes: [],
 *   }),
 * );
 * if (pieces.ok && plan.ok) {
 *   const placed = placePieces(plan.value, pieces.value.pieces, typedCloth('indigo 14, ivory 9, ochre 4'));
 *   if (placed.ok) {
 *     const source = { file: 'plan.json', sha256: '0'.repeat(64) };
 *     const { answers } = placementOf(placed.value, plan.value.wishes, source, []);
 *     console.log(answers[0].cost); // 0
 *   }
 * }
 */
export function placePieces(
  plan: Plan,
  pieces: readonly Piece[],
  model: BandModel | null,
): Outcome<Placings> {
  checkPlan(plan);
  checkPieceList(pieces);
  if (model !== null) checkBandModel(model);
  try {
    return placed(plan, pieces, model);
  } catch (error) {
    if (error instanceof UnknownName)
      return refuse('unreadable', error.message.replace(/: [^:]*$/, ''), error.message.replace(/^.*: /, ''));
    throw error;
  }
}

function placed(plan: Plan, pieces: readonly Piece[], model: BandModel | null): Outcome<Placings> {
  const shapes = pieces.flatMap((piece) => piece.copies.map((copy) => shapeOfCopy(piece, copy)));
  const copies = new Map(shapes.map(({ id }, k) => [id, k]));
  const joins = findJoins(plan.joins, copies, shapes);
  const known = model === null ? null : placingCloth(model, plan.cloth.instances);
  if (known !== null && !known.ok) return known;
  const cloth = known === null ? null : askedCloth(shapes, known.value);
  if (known?.value.hasLooseMotifs && plan.wishes.some(({ kind }) => kind === 'clear'))
    throw new UnknownName(
      'A wish asks to keep clear of motifs, but the model does not tell how they repeat along the stripes: leave it out, or measure a photo with more of the print in view',
    );
  const names = { cloth, copies, shapes, joins };
  const terms = planTerms(plan.wishes, names);
  const oneWay = plan.cloth.oneWay ?? model?.symmetry.directional ?? null;
  // Plain cloth is laid with all grain heads up: nothing is won by turning a piece.
  const heads = oneWay === true ? ([1, -1] as const) : cloth === null ? ([1] as const) : ([null] as const);
  const problems = heads.map((head): PlacingProblem => {
    const choices = shapes.map((shape, k) => choicesOf(shape, k, plan, cloth, terms, head));
    return { copies: choices, terms, axes: axisProblems(plan, names, choices) };
  });
  const isSame = sameToTheEye(cloth, shapes);
  const all = problems.flatMap((problem) => findPlacings(problem, isSame, MOST_ANSWERS));
  const found = distinct(all, isSame, MOST_ANSWERS).filter(({ over }) => over === 0);
  if (found.length === 0) return noPlacing(plan, problems, namesIn(model));
  const warnings = oneWay === null && model !== null ? [DIRECTION_UNKNOWN] : [];
  return succeed({
    shapes,
    cloth,
    joins: [...joins.values()],
    uneven: model === null ? null : knownUnevenness(model),
    terms,
    problems,
    oneWay: oneWay === true,
    found,
    warnings,
  });
}

const DIRECTION_UNKNOWN: PlacingWarning = {
  code: 'direction-unknown',
  message:
    'It is not known whether this cloth looks the same from either end, so pieces may lie head up or head down. Fold a corner of the cloth round so that it lies head down beside the rest: if it looks different, write "one_way": true in the plan.',
};

function noPlacing({ wishes }: Plan, problems: readonly PlacingProblem[], names: Names): Outcome<never> {
  const { musts, leastMiss } = conflictingMusts(problems);
  const giving = wishes[musts[musts.length - 1]];
  const others = musts.slice(0, -1).map((k) => wishes[k]);
  const quoted = musts.map((k) => `"${wishes[k].id}"`).join(' and ');
  const nearest = Number.isFinite(leastMiss)
    ? nearestWords(giving, leastMiss, names)
    : wishWords(giving, names);
  const whileWords =
    others.length === 0 ? '' : ` while ${others.map((wish) => wishWords(wish, names)).join(' and ')}`;
  return refuse(
    'no-placing',
    `${musts.length === 1 ? `No place on this cloth gives ${quoted}, which the plan says must be` : `No place on this cloth gives ${quoted} together, which the plan says must be`} (${nearest}${whileWords})`,
    'allow more in the plan ("within": how far off will still do), or take "must" away from one of them',
  );
}

function choicesOf(
  shape: CopyShape,
  copy: number,
  plan: Plan,
  cloth: AskedCloth | null,
  terms: readonly Term[],
  head: 1 | -1 | null,
): CopyChoices {
  const own = terms.filter(({ measure }) => measure.copies.includes(copy));
  const asksAlong = own.some(({ measure }) => measure.asksAlong);
  const options = layOptions(shape, plan.cloth, head);
  if (cloth === null || own.length === 0)
    return { options: options.slice(0, 1), across: null, along: null, still: shape.middle };
  const motifs = asksAlong && cloth.along === null ? cloth.motifs : null;
  const across = offsetsOver(cloth.across.line, cloth.across.stripes, motifs?.acrossMm ?? null, shape, 0);
  const along = !asksAlong
    ? null
    : cloth.along !== null
      ? offsetsOver(cloth.along.line, cloth.along.stripes, null, shape, 1)
      : { fromMm: 0, toMm: motifs?.alongMm ?? 0, isRound: true };
  return { options, across, along, still: shape.middle };
}

/**
 * Offsets that a copy may have along one axis: one repeat (one column of the print, where motifs matter), or on actual stripes those with
 * the whole copy in view. A copy wider than the view may hang over on both sides; what is beyond is then the mean repeat.
 */
function offsetsOver(
  line: BandLine,
  { periodMm }: StripesOfCloth,
  columnMm: number | null,
  { outline }: CopyShape,
  axis: 0 | 1,
): OffsetRange {
  if (line.seenMm === null) return { fromMm: 0, toMm: columnMm ?? periodMm, isRound: true };
  const halfWidth = Math.max(...outline.map((at) => at[axis]));
  const middle = (line.seenMm[0] + line.seenMm[1]) / 2;
  const play = Math.max(periodMm / 2, (line.seenMm[1] - line.seenMm[0]) / 2 - halfWidth);
  return { fromMm: middle - play, toMm: middle + play, isRound: false };
}

/** The stripes as chains long enough for every place that a search may ask for. */
function askedCloth(shapes: readonly CopyShape[], cloth: PlacingCloth): AskedCloth {
  const reachOf = (axis: 0 | 1): number =>
    Math.max(...shapes.flatMap(({ outline }) => outline.map((at) => Math.abs(at[axis]))));
  const chain = (stripes: StripesOfCloth, axis: 0 | 1, columnMm: number): BandLine => {
    const reach = reachOf(axis) + 2 * Math.max(stripes.periodMm, columnMm);
    if (stripes.seen === null) return repeatedBands(stripes.cycle, -reach, reach);
    const [first, last] = [stripes.seen[0].startMm, stripes.seen[stripes.seen.length - 1].endMm];
    return seenBands(stripes.seen, stripes.cycle, first - 2 * reach, last + 2 * reach);
  };
  return {
    copies: shapes,
    across: { line: chain(cloth.across, 0, cloth.motifs?.acrossMm ?? 0), stripes: cloth.across },
    along: cloth.along === null ? null : { line: chain(cloth.along, 1, 0), stripes: cloth.along },
    motifs: cloth.motifs,
  };
}
