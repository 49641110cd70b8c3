import { ciede2000 } from '../../src/core/colour/ciede2000.js';
import { labFromLinear } from '../../src/core/colour/lab.js';
import { linearFromRgb8, rgb8FromHex } from '../../src/core/colour/srgb.js';
import type { BandFacts, BandModel, InstanceFacts, Point } from '../../src/core/model/band-model.js';
import type { BandTruth, SceneTruth } from '../../test/support/photo-painter/scene-truth.js';
import {
  type ClothFromPhoto,
  clipToPhoto,
  growthInPhoto,
  measuredClothFromPhoto,
  trueClothFromPhoto,
} from './facts.js';
import { type BandMatch, type KnownBand, matchBands, worstInstance } from './match-bands.js';
import { matchColours } from './match-colours.js';
import { printFaults } from './print-faults.js';

/** How far one measurement is from the truth. Null: nothing to compare. */
export interface Comparison {
  readonly scalePercent: number | null;
  readonly repeatPercent: number | null;
  readonly bandsFound: number;
  readonly bandsTrue: number;
  readonly worstBandMm: number | null;
  readonly medianBandMm: number | null;
  readonly worstInstanceMm: number | null;
  readonly sharePoints: number | null;
  readonly balancedRight: boolean | null;
  readonly tiltDeg: number | null;
  readonly directionDeg: number | null;
  /** Of a print, or one read on plain stripes. Empty for a check, which has none. */
  readonly printFaults: readonly string[];
  readonly notes: readonly string[];
  /** Each band's width against the width it was drawn with, and the standard deviation the model allows it. */
  readonly widthErrors: readonly { readonly errorMm: number; readonly sdMm: number }[];
  /** The bands of the truth's direction are those of the model's second direction. */
  readonly ofCheck: boolean;
}

interface Direction {
  readonly across_mm: number | null;
  readonly bands: readonly BandFacts[];
  readonly instances: readonly InstanceFacts[];
}

export function compareWithTruth(model: BandModel, truth: SceneTruth): Comparison {
  const notes: string[] = [];
  const trueCloth = trueClothFromPhoto(truth);
  const cloth = measuredClothFromPhoto(model);
  const centre: Point = [truth.image_size[0] / 2, truth.image_size[1] / 2];
  const { facts, reversed, ofCheck } = sameDirection(model, cloth, trueCloth, centre, notes);

  const hexes = Object.keys(truth.colour_share);
  const trueHexes = hexes.length > 0 ? hexes : [...new Set(truth.bands.map((band) => band.colour_srgb_hex))];
  const trueColours = trueHexes.map((hex) => ({ hex, share: truth.colour_share[hex] ?? 0 }));
  const owners = matchColours(
    model.colours.map(({ srgb, share }) => ({ hex: srgb, share })),
    trueColours,
  );
  const ownerOf = new Map(model.colours.map(({ id }, i) => [id, owners[i]]));

  // In a woven check the cloth shows mixtures of the two directions' colours, not the colours: widths tell the order.
  const order = (bands: readonly BandTruth[]) => (reversed ? [...bands].reverse() : bands);
  const known = order(truth.bands).map(
    (band): KnownBand => ({
      widthMm: band.width_mm_mean_visible ?? band.width_mm_nominal,
      colour: truth.check ? 0 : trueHexes.indexOf(band.colour_srgb_hex),
    }),
  );
  const measured = facts.bands.map(
    (band): KnownBand => ({
      widthMm: band.width_mm,
      colour: truth.check ? 0 : (ownerOf.get(band.colour) ?? -1),
    }),
  );
  const match = matchBands(measured, known);
  if (match && match.wrongColours > 0) notes.push(`${match.wrongColours} band colours wrong`);

  const trueRepeat = truth.repeat_across_mm;
  const ofPrint = truth.check ? [] : printFaults(model, truth);
  return {
    scalePercent: cloth && scaleError(cloth, trueCloth, truth),
    repeatPercent:
      facts.across_mm === null || trueRepeat === null ? null : 100 * (facts.across_mm / trueRepeat - 1),
    bandsFound: facts.bands.length,
    bandsTrue: truth.bands.length,
    worstBandMm: match && Math.max(...match.errorsMm),
    medianBandMm: match && median(match.errorsMm),
    worstInstanceMm: match && instanceError(facts, truth, match, reversed),
    sharePoints: hexes.length > 0 ? shareError(model, owners, trueColours) : null,
    balancedRight:
      truth.balanced === null ? null : (ofCheck ? model.check : model)?.symmetry?.balanced === truth.balanced,
    tiltDeg: model.plane && model.plane.tilt_deg - truth.tilt_deg,
    directionDeg:
      model.stripes.direction_deg === null || truth.stripe_direction_deg === null
        ? null
        : turnBetween(model.stripes.direction_deg, truth.stripe_direction_deg),
    printFaults: ofPrint,
    notes: [...notes, ...ofPrint],
    widthErrors: match ? widthErrors(facts, order(truth.bands), match, model.scale?.relative_sd ?? 0) : [],
    ofCheck,
  };
}

/**
 * What a model calls a width's standard deviation is the spread over the instances; where it does not tell that of the
 * mean, it is taken as surer by the root of their number and as unsure as the scale. Bands without either are left out.
 */
function widthErrors(
  { bands, instances }: Direction,
  known: readonly BandTruth[],
  { turn }: BandMatch,
  scaleSd: number,
): { errorMm: number; sdMm: number }[] {
  return bands.flatMap(({ id, width_mm, width_sd_mm, width_mean_sd_mm }, i) => {
    const errorMm = width_mm - known[(i + turn) % known.length].width_mm_nominal;
    if (width_mean_sd_mm) return [{ errorMm, sdMm: width_mean_sd_mm }];
    const seen = instances.filter(({ band, whole }) => band === id && whole).length;
    if (width_sd_mm === null || seen < 2) return [];
    return [{ errorMm, sdMm: Math.hypot(width_sd_mm / Math.sqrt(seen), scaleSd * width_mm) }];
  });
}

/** Picks the measured direction that runs as the true one does, and tells whether its order is reversed. */
function sameDirection(
  model: BandModel,
  cloth: ClothFromPhoto | null,
  trueCloth: ClothFromPhoto,
  centre: Point,
  notes: string[],
): { facts: Direction; reversed: boolean; ofCheck: boolean } {
  const first: Direction = {
    across_mm: model.repeat.across_mm,
    bands: model.bands,
    instances: model.instances,
  };
  if (!cloth) return { facts: first, reversed: false, ofCheck: false };
  const trueU = growthInPhoto(trueCloth, centre, 0);
  const dot = (a: Point) => a[0] * trueU[0] + a[1] * trueU[1];
  const u = dot(growthInPhoto(cloth, centre, 0));
  const vGrowth = growthInPhoto(cloth, centre, 1);
  if (vGrowth[1] > 0.03) notes.push('v points down');
  if (Math.abs(u) > Math.SQRT1_2) return { facts: first, reversed: u < 0, ofCheck: false };
  if (!model.check) {
    notes.push('wrong direction');
    return { facts: first, reversed: false, ofCheck: false };
  }
  // Bands of the other direction are listed along growing v.
  const { repeat, bands, instances } = model.check;
  return {
    facts: { across_mm: repeat.across_mm, bands, instances },
    reversed: dot(vGrowth) < 0,
    ofCheck: true,
  };
}

/** Error of the length between the reference's ends, as far as they are in the photo, in the cloth's plane. */
function scaleError(cloth: ClothFromPhoto, trueCloth: ClothFromPhoto, truth: SceneTruth): number | null {
  if (!truth.reference) return null;
  const [from, to] = truth.reference.ends_px;
  const ends = clipToPhoto(from, to, truth.image_size);
  if (!ends) return null;
  const length = (frame: ClothFromPhoto): number => {
    const [a, b] = ends.map(frame);
    return Math.hypot(a[0] - b[0], a[1] - b[1]);
  };
  return 100 * (length(cloth) / length(trueCloth) - 1);
}

function instanceError(
  facts: Direction,
  truth: SceneTruth,
  match: BandMatch,
  reversed: boolean,
): number | null {
  const n = truth.bands.length;
  const indexOf = new Map(facts.bands.map(({ id }, i) => [id, i]));
  const measured = facts.instances
    .filter((instance) => instance.whole)
    .map(({ band, repeat, width_mm }) => ({
      place: repeat * n + (indexOf.get(band) ?? 0) + match.turn,
      widthMm: width_mm,
    }));
  const known = truth.instances.map(({ band, repeat, width_mm }) => ({
    place: reversed ? -repeat * n + (n - 1 - band) : repeat * n + band,
    widthMm: width_mm,
  }));
  return measured.length > 0 && known.length > 0 ? worstInstance(measured, known, n) : null;
}

/** Largest error of a colour's share, in points of a hundred. */
/** Inks nearer than this (CIEDE2000) are one to the eye: the faintest bands that are asked for lie 4 apart. */
const ONE_INK = 3;

function shareError(
  model: BandModel,
  owners: readonly number[],
  trueColours: readonly { readonly hex: string; readonly share: number }[],
): number {
  const labs = trueColours.map(({ hex }) => labFromLinear(linearFromRgb8(rgb8FromHex(hex))));
  const inkOf = labs.map((lab, i) =>
    labs.findIndex((other, k) => k === i || ciede2000(lab, other) < ONE_INK),
  );
  const off = trueColours.map(() => 0);
  model.colours.forEach(({ share }, i) => {
    off[inkOf[owners[i]]] += share;
  });
  trueColours.forEach(({ share }, i) => {
    off[inkOf[i]] -= share;
  });
  return 100 * Math.max(...off.map(Math.abs));
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/** Signed turn from b to a between directions that are the same after 180 degrees. */
const turnBetween = (a: number, b: number): number => ((((a - b + 90) % 180) + 180) % 180) - 90;
