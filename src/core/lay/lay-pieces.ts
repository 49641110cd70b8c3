import { check, listOf, numberWithin, record, text, wholeNumber } from '../base/expectation.js';
import { type Outcome, refuse, succeed, UsageError } from '../base/outcome.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import type { Outline } from '../pieces/geometry/outline.js';
import type { Piece } from '../pieces/piece/pieces-file.js';
import { USED_FILE } from '../place/answer/check-placings.js';
import type { Placement, PlacementAnswer } from '../place/answer/placement.js';
import { checkPieceList, checkPlan } from '../place/plan/check-plan.js';
import type { ClothLength, Plan } from '../place/plan/plan.js';
import type { ClothToBuy, LayAnswer } from './answer/lay-answer.js';
import { type LaidCopy, laidLength } from './answer/lay-record.js';
import { compiled } from './fit/compiled.js';
import { firstFit } from './fit/first-fit.js';
import { clothMotions } from './phase/cloth-motions.js';
import { type ClothInHand, cuttingLines, laidProblem } from './phase/laid-problem.js';

/** How long and from where to look. */
export interface LaySettings {
  /** Rounds of the search: more find less cloth. The same number finds the same lay. */
  readonly rounds: number;
  /** Where chance starts. */
  readonly seed: number;
}

export const DEFAULT_LAY: LaySettings = { rounds: 300, seed: 1 };

const SETTINGS = record({
  rounds: wholeNumber({ least: 0, most: 1e9 }),
  seed: wholeNumber({ least: 0, most: 2 ** 32 - 1 }),
});

const PLACEMENT = record(
  {
    plan: USED_FILE,
    files: listOf(USED_FILE),
    warnings: listOf(record({ code: text, message: text })),
    answers: listOf(
      record({
        rank: numberWithin({ least: 1 }),
        copies: listOf(
          record({ copy: text, piece: text, transform: listOf(numberWithin({}), { least: 6, most: 6 }) }),
          { least: 1 },
        ),
      }),
      { least: 1 },
      'answers',
    ),
  },
  'a placement as placementOf gives it',
);

/**
 * Lays the placed pieces of a plan on its lengths of cloth. model: that of the plan's cloth, null for plain cloth; placement: what placing
 * gave for the plan. Refuses a plan without lengths, or one that does not say where stripes start on them. Pieces that do not
 * fit are an answer, not a refusal.
 */
export function layPieces(
  plan: Plan,
  pieces: readonly Piece[],
  model: BandModel | null,
  placement: Placement,
  settings: LaySettings = DEFAULT_LAY,
): Outcome<LayAnswer> {
  checkPlan(plan);
  checkPieceList(pieces);
  if (model !== null) checkBandModel(model);
  check(placement, 'placement', PLACEMENT);
  check(settings, 'settings', SETTINGS);
  if (plan.lengths.length === 0)
    return refuse(
      'unreadable',
      'The plan lists no length of cloth to lay the pieces on',
      'add one under "lengths", with its width_mm, length_mm and stripes',
    );
  const unknown = model === null ? undefined : plan.lengths.find(({ b1StartMm }) => b1StartMm === null);
  if (model !== null && unknown !== undefined)
    return refuse(
      'unreadable',
      `The plan does not say where the stripes start on "${unknown.id}"`,
      `measure from its ${unknown.stripes === 'lengthwise' ? 'left selvage to the left edge' : 'cut end to the farther edge'} of a ${model.bands[0].id} stripe, and write that as "b1_start_mm"`,
    );
  const cutting = cuttingLines(pieces);
  for (const { piece } of placement.answers.flatMap(({ copies }) => copies))
    if (!cutting.has(piece))
      throw new UsageError(`expected one made from these pieces, found a piece "${piece}"`, 'placement');
  const cloth: ClothInHand = {
    lengths: plan.lengths,
    marginMm: plan.marginMm,
    firstBandStartMm: model === null ? null : model.bands[0].start_mm,
    motions: clothMotions(plan.cloth, model),
  };
  const laid = laidCopies(placement.answers[0], cutting, cloth);
  return succeed(layRecord(plan, placement, placement.answers[0], laid, cutting, cloth));
}

function layRecord(
  plan: Plan,
  placement: Placement,
  answer: PlacementAnswer,
  laid: readonly LaidCopy[],
  cutting: ReadonlyMap<string, Outline>,
  cloth: ClothInHand,
): LayAnswer {
  const unplaced = laid.filter(({ length }) => length === null).map(({ copy }) => copy);
  return {
    format: 'stripewright.lay',
    version: 1,
    units: 'mm',
    plan: placement.plan,
    files: placement.files,
    answer: answer.rank,
    fits: unplaced.length === 0,
    unplaced,
    lengths: plan.lengths.map((length, k) =>
      laidLength(
        length,
        laid.filter((one) => one.length === k),
        cutting,
        cloth.firstBandStartMm ?? 0,
        plan.marginMm,
      ),
    ),
    short: [],
    remedies: [],
    buy: clothToBuy(answer, cutting, cloth),
    widths: [],
    margin_mm: plan.marginMm,
    warnings: placement.warnings,
  };
}

function laidCopies(
  answer: PlacementAnswer,
  cutting: ReadonlyMap<string, Outline>,
  cloth: ClothInHand,
): LaidCopy[] {
  const { problem, lengthFromPiece } = laidProblem(answer, cutting, cloth);
  const search = compiled(problem);
  const order = problem.items
    .map((item, k) => ({ k, area: problem.shapes[item.choices[0][0].shape].areaMm2 }))
    .sort((a, b) => b.area - a.area)
    .map(({ k }) => k);
  const places = firstFit(
    search,
    order,
    problem.bins.map((_, k) => k),
  );
  return answer.copies.map(({ copy, piece, transform }, item) => {
    const place = places[item];
    if (place === null) return { copy, piece, length: null, transform, halfTurned: false };
    const given = { ...place, choice: search.given[item][place.bin][place.choice] };
    return { copy, piece, length: place.bin, ...lengthFromPiece(item, given) };
  });
}

/** No garment takes so much, mm. */
const ENDLESS_MM = 1e6;

/** Widest length; what pieces take of it, were it endless. */
function clothToBuy(
  answer: PlacementAnswer,
  cutting: ReadonlyMap<string, Outline>,
  cloth: ClothInHand,
): ClothToBuy {
  const widest = cloth.lengths.reduce((most, one) => (one.widthMm > most.widthMm ? one : most));
  const endless: ClothLength = { ...widest, lengthMm: ENDLESS_MM, flaws: [] };
  const taken = (on: ClothInHand): number | null => {
    const laid = laidCopies(answer, cutting, { ...on, lengths: [endless] });
    if (laid.some(({ length }) => length === null)) return null;
    const { used_mm } = laidLength(endless, laid, cutting, on.firstBandStartMm ?? 0, on.marginMm);
    return Math.ceil((used_mm + on.marginMm - 1e-6) / 10) * 10;
  };
  const plainMotions = { ...cloth.motions, acrossStepMm: null, alongStepMm: null, dropMm: 0 };
  return {
    width_mm: widest.widthMm,
    matched_mm: taken(cloth),
    plain_mm: taken({ ...cloth, motions: plainMotions }),
  };
}
