import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { Lab } from '../colour/lab.js';
import { median, robustSd } from '../math/robust.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import { balanceOf } from './balance.js';
import { type BandMix, bandMix } from './band-mix.js';
import { meanSd, type Spread, sharedUnevenness, spreadOf, spreadWithoutStrays } from './band-statistics.js';
import { colourFacts } from './colour-facts.js';
import { type EdgeLattice, fitLattice, isOrdered } from './edge-lattice.js';
import { ownColour } from './own-colour.js';
import { edgePlaces, placeSegments } from './place-edges.js';
import { FEWEST_WINDOWS, isTorn, longestRow, type PlacedBand, whole, wholePart } from './placed-bands.js';
import { recountedPlaces } from './recount-gaps.js';
import type { BandPlace, RoughReading } from './stripe-reading.js';
import type { StripeSummary } from './stripe-summary.js';

/** Refined edges in the metric cloth frame: entry e * windows + w, NaN where unseen. */
export interface EdgeTraces {
  readonly windows: number;
  /** u with the cloth's bow taken out. */
  readonly uMm: Float64Array;
  /** Typical blur of an edge (Gaussian sigma), mm. */
  readonly blurMm: number;
}

/** What is left of an edge's blur as an error common to all instances of a band: light that spreads, sharpening, threads that stand out. */
const EDGE_BIAS = 0.05;

/**
 * From refined edges to what a maker reads: every instance, every band with its unevenness, the repeat with its standard
 * deviation, colours with their shares, and whether the cloth is balanced. `scaleRelativeSd` joins the repeat's deviation.
 * Refused as 'no-stripes' when not even two bands are seen whole.
 */
export function summariseStripes(
  found: RoughReading,
  cloth: StraightCloth,
  traces: EdgeTraces,
  scaleRelativeSd: number,
): Outcome<StripeSummary> {
  const edgeMm = edgeMeans(found, traces);
  const n = found.bandsPerRepeat;
  const reading = n === null ? found : { ...found, places: recountedPlaces(found, edgeMm, n) };
  const first = n === null ? null : fitLattice(edgeMm, edgePlaces(reading, reading.places), n);
  const places = first ? placeSegments(reading, edgeMm, first) : [...reading.places];
  const lattice = first && n !== null ? fitLattice(edgeMm, edgePlaces(reading, places), n) : null;
  const placed = cutStrays(placedSegments(reading, traces, edgeMm, places));
  // A band of the repeat without an edge of its own anywhere has no width: the bands are then told as seen.
  const known =
    lattice !== null && isOrdered(lattice) && fillsRepeat(lattice, placed, reading.bandsPerRepeat ?? 0);
  const summary =
    known && reading.bandsPerRepeat !== null
      ? withRepeat(
          reading,
          cloth,
          placed,
          places,
          lattice,
          reading.bandsPerRepeat,
          traces.blurMm,
          scaleRelativeSd,
        )
      : withoutRepeat(reading, cloth, placed, traces.blurMm, scaleRelativeSd);
  // One band alone may be a selvage, a fold or a seam of plain cloth.
  if (summary.bands.length < 2) {
    return refuse(
      'no-stripes',
      `No stripes found (${summary.bands.length === 0 ? 'no band has' : 'only one band has'} both its edges in view)`,
      'photograph striped cloth with at least two repeats in view',
    );
  }
  const part = wholePart(reading, placed);
  if (!known && part < LEAST_PART) {
    return refuse(
      'no-stripes',
      `No stripes found (bands that show both their edges fill only ${Math.round(100 * part)} % of the view, as a selvage would)`,
      'photograph striped cloth with at least two repeats in view, or say where they are',
      ['region'],
    );
  }
  if (!allFinite(summary) || (!known && isTorn(placed))) {
    return refuse(
      'no-stripes',
      'Stripes could not be measured (their edges are too faint or too ragged)',
      'photograph the cloth flat, sharp and evenly lit, with at least two repeats in view',
    );
  }
  return succeed(summary);
}

/** Bands that come but once and take up less than this part of the view are a selvage, a fold or a seam. */
const LEAST_PART = 0.15;

/** No number in a result may be NaN or infinite. */
const allFinite = (value: unknown): boolean =>
  typeof value === 'number'
    ? Number.isFinite(value)
    : typeof value !== 'object' || value === null || Object.values(value).every(allFinite);

/** Mean place of each edge over its windows, strays left out; NaN for an edge not seen. */
export function edgeMeans(reading: RoughReading, { windows, uMm }: EdgeTraces): Float64Array {
  return Float64Array.from(reading.edges, (_, e) => {
    const seen = uMm.subarray(e * windows, (e + 1) * windows).filter((u) => !Number.isNaN(u));
    return seen.length >= FEWEST_WINDOWS ? spreadWithoutStrays([...seen], 0.1).mean : Number.NaN;
  });
}

function placedSegments(
  reading: RoughReading,
  { windows, uMm }: EdgeTraces,
  edgeMm: Float64Array,
  places: readonly (BandPlace | null)[],
): PlacedBand[] {
  const startOf = new Map(reading.edges.map((edge, e) => [edge.right, e]));
  const endOf = new Map(reading.edges.map((edge, e) => [edge.left, e]));
  // Pieces of one band on either side of a ruler are one instance, from the first's start to the last's end.
  const keyOf = (place: BandPlace | null, s: number): string =>
    place ? `${place.band} ${place.repeat}` : `alone ${s}`;
  const pieces = new Map<string, number[]>();
  places.forEach((place, s) => {
    const key = keyOf(place, s);
    pieces.set(key, [...(pieces.get(key) ?? []), s]);
  });
  return [...pieces.values()].map((own) => {
    const segment = own[0];
    const a = startOf.get(segment);
    const b = endOf.get(own[own.length - 1]);
    const widths: number[] = [];
    if (a !== undefined && b !== undefined) {
      for (let w = 0; w < windows; w++) {
        const width = uMm[b * windows + w] - uMm[a * windows + w];
        if (!Number.isNaN(width)) widths.push(width);
      }
    }
    return {
      segment,
      place: places[segment],
      startMm: a === undefined ? Number.NaN : edgeMm[a],
      endMm: b === undefined ? Number.NaN : edgeMm[b],
      width: spreadWithoutStrays(widths, 0.15),
    };
  });
}

/** An instance this much wider or narrower than the others of its band is no unevenness. */
const STRAY = 0.15;
const STRAY_SDS = 6;

/**
 * Takes an instance far from all others of its band as cut off: the cloth ends within it, at a selvage say, or something lies over one of
 * its edges. With fewer than two others to compare with, all stand.
 */
function cutStrays(placed: readonly PlacedBand[]): readonly PlacedBand[] {
  return placed.map((p) => {
    const others = placed
      .filter((q) => q !== p && q.place !== null && q.place.band === p.place?.band && whole(q))
      .map((q) => q.width.mean);
    if (!whole(p) || others.length < 2) return p;
    const usual = median(others);
    const limit = Math.max(STRAY * usual, STRAY_SDS * robustSd(others));
    return Math.abs(p.width.mean - usual) > limit ? { ...p, width: { ...p.width, count: 0 } } : p;
  });
}

const coloursOf = ({ palette }: RoughReading, { motifColours }: BandMix): Lab[] =>
  [...palette, ...motifColours].map(({ lab }) => lab);

/** Of each band's instances seen whole; null where there are none. */
const spreadsOf = (placed: readonly PlacedBand[], n: number): (Spread | null)[] =>
  Array.from({ length: n }, (_, b) => {
    const widths = placed.filter((p) => p.place?.band === b && whole(p)).map((p) => p.width.mean);
    return widths.length > 0 ? spreadOf(widths) : null;
  });

const latticeWidth = ({ offsetsMm, periodMm }: EdgeLattice, b: number, n: number): number =>
  (b + 1 < n ? offsetsMm[b + 1] : offsetsMm[0] + periodMm) - offsetsMm[b];

/** Bands as wide as they are seen fill a repeat to this part of it; else what was taken for one is none. */
const FILLED = 0.02;

function fillsRepeat(lattice: EdgeLattice, placed: readonly PlacedBand[], n: number): boolean {
  const spreads = spreadsOf(placed, n);
  const sum = spreads.reduce((mm, spread, b) => mm + (spread?.mean ?? latticeWidth(lattice, b, n)), 0);
  return Math.abs(sum - lattice.periodMm) <= FILLED * sum;
}

function withRepeat(
  reading: RoughReading,
  cloth: StraightCloth,
  placed: readonly PlacedBand[],
  places: readonly (BandPlace | null)[],
  lattice: EdgeLattice,
  n: number,
  blurMm: number,
  scaleRelativeSd: number,
): StripeSummary {
  const { periodMm } = lattice;
  const spreads = spreadsOf(placed, n);
  const unevenness = sharedUnevenness(spreads);
  const meanWidth = (b: number): number => spreads[b]?.mean ?? latticeWidth(lattice, b, n);
  // The widest band is called b1: it is what a person points at first.
  const lead = Array.from({ length: n }, (_, b) => b).reduce((best, b) =>
    meanWidth(b) > meanWidth(best) ? b : best,
  );
  const order = Array.from({ length: n }, (_, i) => (lead + i) % n);
  const idOf = (b: number): string => `b${((b - lead + n) % n) + 1}`;
  const leadRepeat = Math.round(-lattice.offsetsMm[lead] / periodMm);
  const originUMm = lattice.offsetsMm[lead] + leadRepeat * periodMm;
  const bandOf = (segment: number): number | null => places[segment]?.band ?? null;
  const mix = bandMix(cloth, reading, bandOf, n);
  const ownWeights = order.map((b) => ({ widthMm: meanWidth(b), mix: mix.mixes[b] }));
  const colours = colourFacts(coloursOf(reading, mix), ownWeights);
  const idOfColour = colours.idOf;
  const edgeSd = (b: number): number | null => {
    const places2 = edgePlaces(reading, places);
    const misses = [...lattice.missesMm].filter((m, e) => places2[e]?.band === b && !Number.isNaN(m));
    return misses.length > 1 ? Math.sqrt(misses.reduce((s, m) => s + m * m, 0) / (misses.length - 1)) : null;
  };
  let start = 0;
  const bands = order.map((b) => {
    const width_mm = meanWidth(b);
    const spread = spreads[b];
    const band = {
      id: idOf(b),
      colour: idOfColour(ownColour(reading, bandOf, b)),
      start_mm: start,
      width_mm,
      width_sd_mm: spread?.sd ?? null,
      width_mean_sd_mm:
        spread && Math.hypot(meanSd(spread, unevenness), EDGE_BIAS * blurMm, scaleRelativeSd * width_mm),
      width_min_mm: spread?.min ?? null,
      width_max_mm: spread?.max ?? null,
      edge_sd_mm: edgeSd(b),
      mix: mix.mixes[b].map((m) => ({ colour: idOfColour(m.colour), share: m.share })),
    };
    start += width_mm;
    return band;
  });
  const instances = placed
    .filter((p) => p.place !== null && (whole(p) || !Number.isNaN(p.startMm) || !Number.isNaN(p.endMm)))
    .map((p) => {
      const { band, repeat } = p.place as BandPlace;
      return instanceFacts(
        p,
        idOf(band),
        repeat - leadRepeat - (band < lead ? 1 : 0),
        originUMm,
        meanWidth(band),
      );
    });
  const balance = balanceOf(
    order.map((b) => ({
      colour: idOfColour(ownColour(reading, bandOf, b)),
      widthMm: meanWidth(b),
      sdMm: (spreads[b]?.sd ?? 0) / Math.sqrt(Math.max(1, spreads[b]?.count ?? 1)),
    })),
  );
  const seenMm = extentMm(placed);
  return {
    repeat: {
      across_mm: periodMm,
      across_sd_mm: Math.hypot(lattice.periodSdMm, scaleRelativeSd * periodMm),
      across_reading_sd_mm: lattice.periodSdMm,
      repeats_seen: seenMm / periodMm,
      confidence: reading.confidence,
      alternatives: reading.alternatives.map((a) => ({
        across_mm: (periodMm * a.repeatColumns) / (reading.repeatColumns ?? 1),
        confidence: a.confidence,
      })),
      along_mm: null,
      along_sd_mm: null,
      drop_fraction: null,
    },
    colours: colours.facts,
    bands,
    instances,
    symmetry: {
      balanced: balance.balanced,
      balance_score: balance.score,
      mirror_axes_mm: balance.axesMm,
      directional: null,
      direction_score: null,
    },
    leftOutPercent: mix.leftOutPercent,
    shadedBands: reading.shaded.map(idOf).sort(),
    originUMm,
    scatterMm: lattice.scatterMm,
  };
}

function withoutRepeat(
  reading: RoughReading,
  cloth: StraightCloth,
  placed: readonly PlacedBand[],
  blurMm: number,
  scaleRelativeSd: number,
): StripeSummary {
  const seen = longestRow(placed.filter(whole));
  const keys = new Map(seen.map((p, i) => [p.segment, i]));
  const mix = bandMix(cloth, reading, (s) => keys.get(s) ?? null, seen.length);
  const colours = colourFacts(
    coloursOf(reading, mix),
    seen.map((p, i) => ({ widthMm: p.width.mean, mix: mix.mixes[i] })),
  );
  const originUMm = seen[0]?.startMm ?? 0;
  const starts = seen.map((_, i) => seen.slice(0, i).reduce((sum, { width }) => sum + width.mean, 0));
  const bands = seen.map((p, i) => ({
    id: `b${i + 1}`,
    colour: colours.idOf(reading.colours[p.segment]),
    start_mm: starts[i],
    width_mm: p.width.mean,
    width_sd_mm: null,
    width_mean_sd_mm: Math.hypot(EDGE_BIAS * blurMm, scaleRelativeSd * p.width.mean),
    width_min_mm: null,
    width_max_mm: null,
    edge_sd_mm: null,
    mix: mix.mixes[i].map((m) => ({ colour: colours.idOf(m.colour), share: m.share })),
  }));
  return {
    repeat: {
      across_mm: null,
      across_sd_mm: null,
      across_reading_sd_mm: null,
      repeats_seen: 0,
      confidence: 0,
      alternatives: [],
      along_mm: null,
      along_sd_mm: null,
      drop_fraction: null,
    },
    colours: colours.facts,
    bands,
    instances: seen.map((p, i) => instanceFacts(p, `b${i + 1}`, 0, originUMm, p.width.mean)),
    symmetry: {
      balanced: false,
      balance_score: 0,
      mirror_axes_mm: [],
      directional: null,
      direction_score: null,
    },
    leftOutPercent: mix.leftOutPercent,
    shadedBands: [],
    originUMm,
    scatterMm: null,
  };
}

function instanceFacts(p: PlacedBand, band: string, repeat: number, originUMm: number, usualMm: number) {
  const isWhole = whole(p);
  const width_mm = isWhole ? p.width.mean : usualMm;
  // A band cut by the frame has one edge only: the other is where its usual width would put it.
  const start = Number.isNaN(p.startMm) ? p.endMm - width_mm : p.startMm;
  return {
    band,
    repeat,
    start_mm: start - originUMm,
    end_mm: start - originUMm + width_mm,
    width_mm,
    width_sd_mm: isWhole ? p.width.sd : null,
    whole: isWhole,
  };
}

function extentMm(placed: readonly PlacedBand[]): number {
  const ends = placed.flatMap((p) => [p.startMm, p.endMm]).filter((u) => !Number.isNaN(u));
  return ends.length > 1 ? Math.max(...ends) - Math.min(...ends) : 0;
}
