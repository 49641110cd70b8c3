import {
  callback,
  check,
  listOf,
  numberWithin,
  optional,
  record,
  text,
  wholeNumber,
} from '../base/expectation.js';
import { formatLength } from '../base/length.js';
import { type Outcome, refuse, succeed, UsageError } from '../base/outcome.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import type { Outline } from '../pieces/geometry/outline.js';
import { wholeCutting } from '../pieces/geometry/whole-piece.js';
import type { Piece } from '../pieces/piece/pieces-file.js';
import { USED_FILE } from '../place/answer/check-placings.js';
import type { Placement, PlacementAnswer } from '../place/answer/placement.js';
import { checkPieceList, checkPlan } from '../place/plan/check-plan.js';
import type { Plan } from '../place/plan/plan.js';
import type { LayAnswer } from './answer/lay-answer.js';
import { laidLengths } from './answer/lay-record.js';
import { shortCopies } from './answer/short-copies.js';
import { clothToBuy } from './buy/cloth-to-buy.js';
import { DEFAULT_LAY, type LaySettings, shareOf } from './effort.js';
import { fitOn, fitsAll, laidCopies, shortened } from './lay-copies.js';
import { clothMotions } from './phase/cloth-motions.js';
import type { ClothInHand, LaidItem } from './phase/laid-problem.js';

const SETTINGS = record({
  rounds: wholeNumber({ least: 0, most: 1e9 }),
  seed: wholeNumber({ least: 0, most: 2 ** 32 - 1 }),
  spentPart: optional(callback),
  isOver: optional(callback),
  pause: optional(callback),
  tell: optional(callback),
});

/** How the work is shared out: by when each task is to be done. */
const SHARES = { fit: 0.2, shorten: 0.6, buyMatched: 0.85, buyPlain: 1 } as const;

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
export async function layPieces(
  plan: Plan,
  pieces: readonly Piece[],
  model: BandModel | null,
  placement: Placement,
  settings: LaySettings = DEFAULT_LAY,
): Promise<Outcome<LayAnswer>> {
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
  const cutting = new Map(pieces.map((piece) => [piece.id, wholeCutting(piece)]));
  for (const { piece } of placement.answers.flatMap(({ copies }) => copies))
    if (!cutting.has(piece))
      throw new UsageError(`expected one made from these pieces, found a piece "${piece}"`, 'placement');
  const cloth: ClothInHand = {
    lengths: plan.lengths,
    marginMm: plan.marginMm,
    firstBandStartMm: model === null ? null : model.bands[0].start_mm,
    motions: clothMotions(plan.cloth, model),
  };
  return succeed(await layAnswer(plan, placement, cutting, cloth, settings));
}

async function layAnswer(
  plan: Plan,
  placement: Placement,
  cutting: ReadonlyMap<string, Outline>,
  cloth: ClothInHand,
  settings: LaySettings,
): Promise<LayAnswer> {
  const { seed, tell = () => {} } = settings;
  tell('laying the pieces');
  const { answers } = placement;
  let answer = answers[0];
  let fit = await fitOn(itemsOf(answer, cutting), cloth, seed, shareOf(settings, 0, SHARES.fit));
  for (const [k, other] of answers.entries()) {
    if (k === 0 || fitsAll(fit)) continue;
    const spend = shareOf(settings, SHARES.fit / 2, SHARES.fit);
    const another = await fitOn(itemsOf(other, cutting), cloth, seed, spend);
    if (fitsAll(another)) [answer, fit] = [other, another];
  }
  fit = await shortened(fit, seed, shareOf(settings, SHARES.fit, SHARES.shorten));
  const laid = laidCopies(fit);
  const unplaced = laid.filter(({ length }) => length === null).map(({ copy }) => copy);
  tell('reckoning what to buy');
  return {
    format: 'stripewright.lay',
    version: 1,
    units: 'mm',
    plan: placement.plan,
    files: placement.files,
    answer: answer.rank,
    fits: unplaced.length === 0,
    unplaced,
    lengths: laidLengths(plan.lengths, laid, cloth.firstBandStartMm ?? 0, plan.marginMm),
    short: shortCopies(fit, cloth, (mm) => formatLength(mm, 'mm')),
    remedies: [],
    buy: await clothToBuy(fit.items, cloth, settings, {
      from: SHARES.shorten,
      middle: SHARES.buyMatched,
      to: SHARES.buyPlain,
    }),
    widths: [],
    margin_mm: plan.marginMm,
    warnings: placement.warnings,
  };
}

const itemsOf = ({ copies }: PlacementAnswer, cutting: ReadonlyMap<string, Outline>): LaidItem[] =>
  copies.map(({ copy, piece, transform }) => ({
    copy,
    piece,
    cutting: cutting.get(piece) as Outline,
    isPart: false,
    transform,
  }));
