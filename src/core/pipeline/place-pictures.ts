import { anything, check, listOf, orNull, record, text } from '../base/expectation.js';
import { LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import { percentages } from '../base/percent.js';
import type { Point } from '../math/matrix3.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { checkPlacings } from '../place/answer/check-placings.js';
import type { Placement } from '../place/answer/placement.js';
import { motifsOnCopy, stripsOnCopy, unlikeLines } from '../place/garment/copy-facts.js';
import { asDrawn, garmentLayout } from '../place/garment/garment-layout.js';
import type { Placings } from '../place/place-pieces.js';
import { outcomeWords } from '../place/plan/outcome-words.js';
import type { Wish } from '../place/plan/plan.js';
import { namesIn } from '../place/plan/wish-words.js';
import type { CopyState } from '../place/search/problem.js';
import type { DrawnBand, DrawnCopy, Matrix } from '../render/placing/drawn-copy.js';
import type { StandingCopy } from '../render/placing/placed-drawing.js';
import {
  answersSheet,
  clothSheet,
  type DrawnAnswer,
  garmentSheet,
  piecesSheet,
  type SheetStyle,
  type SvgSheet,
} from '../render/placing/placement-sheets.js';
import { checkPlacement } from '../report/check-placement.js';

const STYLE = record({ unit: LENGTH_UNIT, tiles: orNull(record({})), tilePicture: orNull(text) }, 'a style');

/** Of the copy's extent along the grain, to either side of its middle. */
const GRAIN_PART = 0.32;
/** Between pieces spread along the stripes, mm. */
const SPREAD_MM = 20;
/** A row of pieces is no wider than cloth often is, mm. */
const ROW_MM = 1400;
const PLAIN = '#f4f1e8';

/** The pictures of a placement: the answers side by side first, then each answer's garment, pieces and cloth. */
export function placePictures(
  placings: Placings,
  placement: Placement,
  wishes: readonly Wish[],
  model: BandModel | null,
  style: SheetStyle,
): SvgSheet[] {
  check(style, 'style', STYLE);
  const answers = drawnAnswers(placings, placement, wishes, model, style.unit);
  const asPiece = placings.shapes.map(asDrawn);
  return [
    answersSheet(answers, style),
    ...answers.flatMap((answer) => [
      garmentSheet(answer, style),
      piecesSheet(answer, asPiece, style),
      clothSheet(answer, style),
    ]),
  ];
}

/** The answers as the sheets and the page draw them. */
export function drawnAnswers(
  placings: Placings,
  placement: Placement,
  wishes: readonly Wish[],
  model: BandModel | null,
  unit: LengthUnit,
): DrawnAnswer[] {
  checkPlacings(placings, wishes);
  checkPlacement(placement);
  check(placement.answers, 'placement.answers', listOf(anything, { most: placings.found.length }, 'answers'));
  if (model !== null) checkBandModel(model);
  check(unit, 'unit', LENGTH_UNIT);
  const layout = garmentLayout(placings.shapes, placings.joins);
  const wished = new Set(
    wishes.flatMap((wish) =>
      wish.kind === 'lands'
        ? [`${wish.copy} ${wish.point}`]
        : wish.kind === 'stays'
          ? [`${wish.copy} ${wish.from}`]
          : [],
    ),
  );
  return placement.answers.map((answer, k): DrawnAnswer => {
    const { placing } = placings.found[k];
    const copies = placings.shapes.map((_, copy) => drawnCopy(placings, placing, copy, model, wished));
    const missed = answer.wishes.filter(({ met }) => !met).length;
    return {
      rank: answer.rank,
      title: `Answer ${answer.rank}: ${missed === 0 ? 'every wish met' : `${missed} of ${wishes.length} wishes missed`}`,
      garment: copies.map((copy, c) => ({ copy, at: layout[c] })),
      onCloth: spread(copies, placing, stepOf(placings)),
      shares: sharesOf(placings, answer.copies, model),
      wishes: wishes.map((wish, w) => ({
        met: answer.wishes[w].met,
        words: outcomeWords(wish, answer.wishes[w], unit, namesIn(model)),
      })),
    };
  });
}

function drawnCopy(
  { shapes, cloth, joins }: Placings,
  placing: readonly CopyState[],
  copy: number,
  model: BandModel | null,
  wished: ReadonlySet<string>,
): DrawnCopy {
  const { id, outline, points, grain } = shapes[copy];
  const { across, along } = placing[copy];
  const bands = (axis: 'across' | 'along'): DrawnBand[] => {
    const stripes = cloth?.[axis];
    if (stripes == null || model === null)
      return axis === 'across' ? [{ fromMm: -1e4, toMm: 1e4, srgb: PLAIN }] : [];
    return stripsOnCopy(outline, stripes, placing[copy], axis).map(({ fromMm, toMm, colour }) => ({
      fromMm,
      toMm,
      srgb: model.colours[colour].srgb,
    }));
  };
  return {
    id,
    outline,
    bands: bands('across'),
    cross: bands('along'),
    motifs:
      cloth?.motifs == null || model === null
        ? []
        : motifsOnCopy(cloth.motifs, outline, placing[copy]).map(({ motif, ...box }) => ({
            ...box,
            srgb: colourOfMotif(model, motif),
          })),
    grain: grainOn(outline, grain),
    points: [...points.given].map(([name, at]) => ({ id: name, at, isWished: wished.has(`${id} ${name}`) })),
    unlike: cloth === null ? [] : unlikeLines(cloth, joins, placing, copy),
    clothAt: [across.sign, 0, 0, along.sign, -across.sign * across.offsetMm, -along.sign * along.offsetMm],
  };
}

/** Motifs of a placing stand in the order in which the model lists them. */
const colourOfMotif = (model: BandModel, motif: number): string =>
  model.colours.find(({ id }) => id === model.motifs[motif].colour)?.srgb ?? PLAIN;

/** The grain of a copy through the middle of its extent, as long as half of it. */
function grainOn(outline: readonly Point[], [p, q]: Point): [Point, Point] {
  const extent = (axis: 0 | 1): number =>
    Math.max(...outline.map((at) => at[axis])) - Math.min(...outline.map((at) => at[axis]));
  // As much of the line as lies within the outline's own box.
  const half =
    Math.min(extent(0) / Math.max(Math.abs(p), 1e-9), extent(1) / Math.max(Math.abs(q), 1e-9)) * GRAIN_PART;
  // p = q = 0 is the middle of the extent.
  return [
    [-p * half, -q * half],
    [p * half, q * half],
  ];
}

/** What carries the cloth to itself across the stripes; null on plain cloth, and where the stripes of a photo are meant. */
const stepOf = ({ cloth }: Placings): number | null =>
  cloth === null
    ? 1
    : cloth.across.line.seenMm === null
      ? (cloth.motifs?.acrossMm ?? cloth.across.stripes.periodMm)
      : null;

/**
 * Pieces spread over the cloth so that none hides another: side by side by whole repeats where the cloth repeats for ever, and row above row.
 * On the actual stripes of a photo every piece keeps its place across.
 */
function spread(
  copies: readonly DrawnCopy[],
  placing: readonly CopyState[],
  stepMm: number | null,
): StandingCopy[] {
  let lowMm = 0;
  let rowMm = 0;
  let rightMm = 0;
  return copies.map((copy, k) => {
    const { across, along } = placing[k];
    const us = copy.outline.map(([p]) => across.sign * p + across.offsetMm);
    const vs = copy.outline.map(([, q]) => along.sign * q);
    const [left, right] = [Math.min(...us), Math.max(...us)];
    let shiftMm = stepMm === null ? 0 : Math.ceil((rightMm - left) / stepMm) * stepMm;
    if (k > 0 && (stepMm === null || right + shiftMm > ROW_MM)) {
      lowMm += rowMm;
      rowMm = 0;
      shiftMm = stepMm === null ? 0 : Math.ceil(-left / stepMm) * stepMm;
    }
    rowMm = Math.max(rowMm, Math.max(...vs) - Math.min(...vs) + SPREAD_MM);
    rightMm = right + shiftMm + SPREAD_MM;
    const at: Matrix = [across.sign, 0, 0, along.sign, across.offsetMm + shiftMm, lowMm - Math.min(...vs)];
    return { copy, at };
  });
}

function sharesOf(
  { shapes }: Placings,
  copies: Placement['answers'][number]['copies'],
  model: BandModel | null,
): DrawnAnswer['shares'] {
  if (model === null) return [];
  const areas = shapes.map(({ outline }) => areaOf(outline));
  const total = areas.reduce((sum, area) => sum + area, 0);
  const shares = model.colours.map(
    (_, colour) => copies.reduce((sum, copy, k) => sum + areas[k] * copy.shares[colour].share, 0) / total,
  );
  const percents = percentages(shares, 0).map(Number);
  return model.colours.map(({ name, srgb }, colour) => ({ name, srgb, percent: percents[colour] }));
}

const areaOf = (outline: readonly Point[]): number =>
  Math.abs(
    outline.reduce((sum, [x, y], k) => {
      const [nx, ny] = outline[(k + 1) % outline.length];
      return sum + x * ny - nx * y;
    }, 0),
  ) / 2;
