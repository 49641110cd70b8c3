import { type Outcome, succeed } from '../base/outcome.js';
import {
  NO_HINTS,
  type PhotoRegion,
  type ReferenceRequest,
  type Stage,
  type StripeHints,
} from '../base/request.js';
import type { Point } from '../math/matrix3.js';
import { assertOwnModel } from '../model/check-band-model.js';
import { nameColours } from '../model/name-colours.js';
import { halve } from '../raster/halve.js';
import type { Photo } from '../raster/photo.js';
import { hidingMore, pictureLevels } from '../rectify/picture-levels.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';
import { straightHiding } from '../rectify/stripe-view.js';
import { otherRulers } from '../reference/other-rulers.js';
import { NO_MOTIFS } from '../stripes/motif-reading.js';
import type { StripeSummary } from '../stripes/stripe-summary.js';
import { type EdgeTraces, summariseStripes } from '../stripes/summarise-stripes.js';
import { assembleModel } from './assemble-model.js';
import { throughStripes } from './broken-stripes.js';
import { cautionsFor } from './cautions.js';
import { checkMeasureArguments } from './check-measure-arguments.js';
import { closeUpOf, clothPicture } from './draw-cloth.js';
import { findReference } from './find-reference.js';
import { type FoundStripes, findStripes } from './find-stripes.js';
import { measureCheck } from './measure-check.js';
import { metricTraces } from './measure-stripes.js';
import type { ClothPicture, MeasuredCloth } from './measured-cloth.js';
import { motifFacts, readPrint } from './motif-facts.js';
import { overlayMarksOf } from './overlay-marks-of.js';
import { planeAsPhoto, planeOfCloth } from './plane-of-cloth.js';
import { contradictions, rulerBeside } from './scale-check.js';
import { scaleUncertainty } from './scale-uncertainty.js';
import { growthWarnings, refuseGrowth, scanGrowth } from './scan-growth.js';
import { selvageSkewPercent } from './selvage-skew.js';

export interface MeasureOptions {
  /** What a person says of the stripes; by default all is found. */
  readonly hints?: StripeHints;
  /** Told at the start of each stage. */
  readonly onStage?: (stage: Stage) => void;
  /** A clock in ms for `stageMs`; the core has none of its own. */
  readonly now?: () => number;
}

/** Shadow and bevel beside a ruler that must not be read as cloth, mm. */
const MARGIN_MM = 2.5;

/**
 * From one photo to the band model: reference, direction of the stripes, rough reading, edges at full resolution, plane, summary,
 * pictures. Refuses, with what to do next, a photo without scale or stripes, or too dark or blurred to tell.
 *
 * @example
 * import { measureCloth, raster } from 'stripewright';
 *
 * // A scan at 5 px a mm: bands of 12 mm and 8 mm, side by side.
 * const [widthPx, heightPx] = [800, 600];
 * const pixels = new Uint8Array(3 * widthPx * heightPx).map((_, i) =>
 *   Math.floor(i / 3) % 100 < 60 ? [42, 58, 99][i % 3] : [235, 226, 203][i % 3],
 * );
 * const picture = raster(widthPx, heightPx, 3, pixels);
 * const photo = { picture, photoPerPicture: 1, widthPx, heightPx, focal35Mm: null };
 * const measured = measureCloth(photo, { kind: 'density', pxPerMm: 5 });
 * if (measured.ok) {
 *   console.log(measured.value.model.repeat.across_mm?.toFixed(1)); // 20.0
 * }
 */
export function measureCloth(
  photo: Photo,
  request: ReferenceRequest,
  options: MeasureOptions = {},
): Outcome<MeasuredCloth> {
  checkMeasureArguments(photo, request, options);
  const { hints = NO_HINTS, onStage, now } = options;
  const stageMs: { stage: string; ms: number }[] = [];
  let open: { stage: Stage; from: number } | null = null;
  const begin = (stage: Stage | null): void => {
    const at = now?.() ?? 0;
    if (open && now) stageMs.push({ stage: open.stage, ms: at - open.from });
    open = stage ? { stage, from: at } : null;
    if (stage) onStage?.(stage);
  };
  begin('reference');
  const half = halve(photo.picture);
  const scale = findReference(photo, request, half);
  if (!scale.ok) return scale;
  const reference = scale.value;
  const beside = request.kind === 'ruler' ? null : rulerBeside(photo.picture, half);

  const region = hints.region && cornersOf(hints.region, photo.photoPerPicture);
  const marginPx = MARGIN_MM * reference.pxPerMm;
  let rulers: readonly (readonly Point[])[] | null = null;
  const othersThan = (): readonly (readonly Point[])[] => {
    rulers ??= otherRulers(photo.picture, half, reference);
    return rulers;
  };
  const seen = pictureLevels(photo.picture, half, reference.outline, marginPx, region);
  const tried = new Map<string, Outcome<FoundStripes>>();
  const lookForStripes = (isDoubted: boolean): Outcome<ReadStripes> => {
    const search = {
      levels: seen,
      pxPerMm: reference.pxPerMm,
      marginPx,
      hints,
      isDoubted,
      others: othersThan,
      tried,
      begin,
    };
    const found = throughStripes(search, findStripes(search));
    if (!found.ok) return found;
    const { view, traced } = found.value;
    begin('plane');
    const plane = planeOfCloth(photo, request, reference, view, traced);
    const { scaleSd, repeatSd } = scaleUncertainty(reference, plane);
    begin('repeat');
    const traces = metricTraces(traced.edges, plane);
    const summary = summariseStripes(traced.reading, view.straight.cloth, traces, repeatSd);
    return succeed({ ...found.value, plane, scaleSd, repeatSd, traces, summary });
  };
  const plainly = lookForStripes(false);
  if (!plainly.ok) return plainly;
  // A repeat that its bands do not fill is none: something lay on them that the first look took for theirs.
  const again = isUnfilled(plainly.value) ? lookForStripes(true) : plainly;
  // Each holds a picture.
  tried.clear();
  const read = again.ok && !isUnfilled(again.value) ? again.value : plainly.value;
  const { view, traced, across, plane, scaleSd, repeatSd, traces, summary: summarised } = read;
  let { levels } = read;
  const { reading, edges } = traced;
  const growth = request.kind === 'density' ? scanGrowth(planeAsPhoto(photo, reference, view, traced)) : 0;
  const grown = refuseGrowth(growth, beside !== null);
  if (grown !== null) return grown;
  if (!summarised.ok) return summarised;
  let first = summarised.value;
  // Colours that are no band's may be a print's, a hand's or those of other rulers; the last are easily told.
  const others = view.second === null && showsOtherColours(first) ? othersThan() : [];
  if (others.length > 0) {
    levels = hidingMore(levels, others, marginPx);
    const { cloth } = straightHiding(view, others, marginPx);
    const clear = summariseStripes(reading, cloth, traces, repeatSd);
    if (clear.ok) first = clear.value;
  }
  const check = view.second && across ? measureCheck(across, view.second, repeatSd, plane, first) : null;
  const summary = check
    ? { ...first, colours: check.colours.colours, bands: check.colours.acrossBands }
    : first;

  begin('pictures');
  const drawn = { levels, plane, originUMm: summary.originUMm, pxPerMm: reference.pxPerMm, view, reading };
  const sheetOf = (timesCoarser: number): ClothPicture => clothPicture(drawn, timesCoarser);
  let whole: ClothPicture | null = null;
  const cloth = (): ClothPicture => {
    whole ??= sheetOf(1);
    return whole;
  };
  // Cross stripes are no print.
  const print = check
    ? NO_MOTIFS
    : readPrint(summary, (times) => (times === 1 ? cloth() : sheetOf(times)), repeatSd);
  const unnamed = assembleModel({
    photo,
    reference,
    scaleSd,
    plane,
    summary,
    printed: motifFacts(print, summary),
    layout: check ? 'check' : 'stripe',
    check: check?.facts ?? null,
    skewPercent: check?.skewPercent ?? selvageSkewPercent(view, reading, plane),
    warnings: [
      ...growthWarnings(growth),
      ...contradictions(request, beside, plane, read),
      ...cautionsFor({
        photo,
        reference,
        plane,
        summary,
        edges,
        reading,
        hints,
        // Bands that run unbroken across the others, and cannot be measured, are told as well.
        rivalAngle: view.second && across && !check ? view.second.frame.angle : view.rivalAngle,
      }),
    ],
    hints,
  });
  const model = nameColours(unnamed, hints.names ?? []);
  assertOwnModel(model);
  const marks = overlayMarksOf(
    model,
    plane.camera,
    plane.bowPerMm,
    summary.originUMm,
    edges,
    reference,
    photo.photoPerPicture,
    hints,
  );
  begin(null);
  return succeed({ model, marks, cloth, closeUp: closeUpOf(drawn), stageMs });
}

/** Stripes as found and as their edges tell them at full resolution. */
interface ReadStripes extends FoundStripes {
  readonly plane: PlaneSolution;
  readonly scaleSd: number;
  readonly repeatSd: number;
  readonly traces: EdgeTraces;
  readonly summary: Outcome<StripeSummary>;
}

/** Whether a repeat was read of which the edges know nothing. */
const isUnfilled = ({ traced, summary }: ReadStripes): boolean =>
  traced.reading.bandsPerRepeat !== null && (!summary.ok || summary.value.repeat.across_mm === null);

/** Parts of a band in other colours that are worth a look, all together. */
const OTHER_COLOURS = 0.01;

const showsOtherColours = ({ bands }: StripeSummary): boolean =>
  bands.some(
    ({ colour, mix }) =>
      mix.reduce((sum, part) => (part.colour === colour ? sum : sum + part.share), 0) > OTHER_COLOURS,
  );

/** A region's corners in picture px. */
const cornersOf = ({ x, y, width, height }: PhotoRegion, photoPerPicture: number): [number, number][] =>
  [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ].map(([px, py]) => [px / photoPerPicture, py / photoPerPicture]);
