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
import { type Outcome, refuse, succeed, UsageError } from '../base/outcome.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import type { Outline } from '../pieces/geometry/outline.js';
import { wholeCutting } from '../pieces/geometry/whole-piece.js';
import type { Piece } from '../pieces/piece/pieces-file.js';
import { USED_FILE } from '../place/answer/check-placings.js';
import type { Placement, PlacementAnswer } from '../place/answer/placement.js';
import { placementOf } from '../place/answer/placement-of.js';
import { placePieces } from '../place/place-pieces.js';
import { checkPieceList, checkPlan } from '../place/plan/check-plan.js';
import type { Plan } from '../place/plan/plan.js';
import type { LayAnswer } from './answer/lay-answer.js';
import { laidLengths } from './answer/lay-record.js';
import { shortCopies } from './answer/short-copies.js';
import { clothToBuy } from './buy/cloth-to-buy.js';
import { widthRows } from './buy/width-rows.js';
import { DEFAULT_LAY, type LaySettings, shareOf } from './effort.js';
import { type Fit, fitOn, fitsAll, laidCopies, shortened } from './lay-copies.js';
import { clothMotions } from './phase/cloth-motions.js';
import type { ClothInHand, LaidItem } from './phase/laid-problem.js';
import { shapeStore } from './phase/shape-store.js';
import { findRemedies, type Misfit } from './remedy/find-remedies.js';

const SETTINGS = record({
  rounds: wholeNumber({ least: 0, most: 1e9 }),
  seed: wholeNumber({ least: 0, most: 2 ** 32 - 1 }),
  spentPart: optional(callback),
  isOver: optional(callback),
  pause: optional(callback),
  tell: optional(callback),
  widthsMm: optional(listOf(numberWithin({ above: 0, most: 1e5 }, 'mm'))),
  repeatsMm: optional(listOf(numberWithin({ above: 0, most: 1e5 }, 'mm'))),
});

/** How the work is shared out: by when each task is to be done, of all that may be spent. */
const SHARES = { fit: 0.2, shorten: 0.6, buyMatched: 0.85, buyPlain: 1 } as const;
const SHARES_OF_MISFIT = { fit: 0.25, shorten: 0.25, buyMatched: 0.4, buyPlain: 0.5 } as const;

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
    store: shapeStore(plan.marginMm),
  };
  return succeed(await layAnswer({ plan, pieces, model, placement, cutting, cloth, settings }));
}

interface LayTask {
  readonly plan: Plan;
  readonly pieces: readonly Piece[];
  readonly model: BandModel | null;
  readonly placement: Placement;
  readonly cutting: ReadonlyMap<string, Outline>;
  readonly cloth: ClothInHand;
  readonly settings: LaySettings;
}

async function layAnswer(task: LayTask): Promise<LayAnswer> {
  const { plan, placement, cloth, settings } = task;
  const { tell = () => {} } = settings;
  tell('laying the pieces');
  const { answer, fit: first } = await firstThatFits(task);
  const doesFit = fitsAll(first);
  const hasRows = (settings.widthsMm?.length ?? 0) + (settings.repeatsMm?.length ?? 0) > 0;
  const shares = doesFit ? SHARES : SHARES_OF_MISFIT;
  const fit = await shortened(first, settings.seed, shareOf(settings, shares.fit, shares.shorten));
  const laid = laidCopies(fit);
  tell('reckoning what to buy');
  const buy = await clothToBuy(fit, cloth, settings, {
    from: shares.shorten,
    middle: shares.buyMatched,
    to: shares.buyPlain,
  });
  const widths = hasRows ? await widthRows(fit.items, cloth, settings) : [];
  if (!doesFit) tell('looking for ways to make the pieces fit');
  return {
    format: 'stripewright.lay',
    version: 1,
    units: 'mm',
    plan: placement.plan,
    files: placement.files,
    answer: answer.rank,
    fits: doesFit,
    unplaced: laid.filter(({ length }) => length === null).map(({ copy }) => copy),
    lengths: laidLengths(plan.lengths, laid, cloth.firstBandStartMm ?? 0, plan.marginMm),
    short: shortCopies(fit, cloth),
    remedies: doesFit ? [] : await findRemedies(misfitOf(task, answer, fit), settings, shares.buyPlain, 1),
    buy,
    widths,
    margin_mm: plan.marginMm,
    warnings: placement.warnings,
  };
}

/** The best answer that fits, else the first. */
async function firstThatFits(task: LayTask): Promise<{ answer: PlacementAnswer; fit: Fit }> {
  const { answers } = task.placement;
  const { cloth, settings } = task;
  const fits: Fit[] = [];
  for (const [k, answer] of answers.entries()) {
    const part = (at: number): number => (SHARES.fit * at) / answers.length;
    const fit = await fitOn(
      itemsOf(answer, task.cutting),
      cloth,
      settings.seed,
      shareOf(settings, part(k), part(k + 1)),
    );
    if (fitsAll(fit)) return { answer, fit };
    fits.push(fit);
  }
  return { answer: answers[0], fit: fits[0] };
}

const itemsOf = ({ copies }: PlacementAnswer, cutting: ReadonlyMap<string, Outline>): LaidItem[] =>
  copies.map(({ copy, piece, transform }) => ({
    copy,
    piece,
    cutting: cutting.get(piece) as Outline,
    isPart: false,
    transform,
  }));

/** Wishes that are tried to do without: each asks for a placement of its own, which takes seconds. */
const WISHES_GIVEN_UP = 2;

function misfitOf(
  { plan, pieces, model, placement, cutting, cloth }: LayTask,
  answer: PlacementAnswer,
  fit: Fit,
): Misfit {
  return {
    answer,
    fit,
    cloth,
    tried: placement.answers,
    itemsOf: (one) => itemsOf(one, cutting),
    *without() {
      const weakest = plan.wishes
        .filter(({ weight }) => weight > 0)
        .sort((a, b) => Number(a.must) - Number(b.must) || a.weight - b.weight)
        .slice(0, WISHES_GIVEN_UP);
      for (const { id } of weakest) {
        const wishes = plan.wishes.filter((one) => one.id !== id);
        const placed = placePieces({ ...plan, wishes }, pieces, model);
        if (!placed.ok) continue;
        yield {
          wish: id,
          answers: placementOf(placed.value, wishes, placement.plan, placement.files).answers,
        };
      }
    },
  };
}
