import { cie76 } from '../colour/cie76.js';
import { ciede2000 } from '../colour/ciede2000.js';
import { type Lab, labFromLinear } from '../colour/lab.js';
import { median } from '../math/robust.js';
import { segmentsBetween } from './band-segments.js';
import type { CrossProfile } from './cross-profile.js';
import { edgeBlur } from './edge-blur.js';
import { fitRepeat, type RepeatFit, type TemplateBand } from './fit-repeat.js';
import { dueAt, extentOf, nearness, scoreOf, widthFits } from './laid-score.js';
import { acrossGainAt, type LightAcross, lightBetweenRepeats } from './light-between-repeats.js';
import { NODES_ACROSS } from './light-field.js';
import type { PlacedRun } from './placed-run.js';
import { ALIKE, WIDTH_JUMP } from './repeat-candidates.js';
import { runOver } from './running-colour.js';
import type { Segment } from './segment.js';
import { blurredProfile, sharpenBands } from './sharpen-bands.js';

/** A template laid over the whole profile. */
export interface LaidRepeat {
  readonly template: readonly TemplateBand[];
  /** In order of growing column; colours as under the light of the picture's middle. */
  readonly runs: readonly PlacedRun[];
  readonly across: LightAcross;
  /** Of the profile. */
  readonly columns: number;
  /** How well it fits: share of the columns and share of the bands that look as they should, the mean of both. */
  readonly score: number;
  /** What the profile departs from the blurred bands, and what so many bands cost (Schwarz): less is better, for one length. */
  readonly misfit: number;
}

/** How templates look in place: bands grow e-fold by `stretch` from the picture's middle to its end, and light drifts. */
interface Looks {
  readonly template: readonly TemplateBand[];
  readonly stretch: number;
  readonly across: LightAcross;
}

/** A first fit worse than this is not worth improving. */
const HOPELESS = 0.6;

/**
 * Lays bands over the profile, over and over, learns stretch, light and the bands' usual looks from that, and lays them again. Null
 * when they do not fit at all.
 *
 * @param bands One repeat, as seen somewhere in the profile.
 * @param shading 'shaded' where the colour of a band may run from one side to the other: laid as one even colour, it would
 *   leave its neighbour what looks more like that.
 */
export function layBands(
  profile: CrossProfile,
  bands: readonly Segment[],
  shading: Shading = 'even',
): LaidRepeat | null {
  const looks = firstLooks(profile, bands);
  if (shading === 'even') return layRepeat(profile, looks);
  const template = looks.template.map((band, b): TemplateBand => {
    const run = runOver(profile.lab, bands[b].from, bands[b].to);
    return Math.hypot(...run) > LEAST_RUN ? { ...band, run } : band;
  });
  return layRepeat(profile, { ...looks, template });
}

export type Shading = 'even' | 'shaded';

/** Light makes a band's colour run by less than this (CIE76). */
const LEAST_RUN = 7;

/** The same bands in the same places, told as a repeat of so many times fewer. */
export function partOfItself(laid: LaidRepeat, times: number): LaidRepeat {
  if (times === 1) return laid;
  const n = laid.template.length / times;
  const runs = laid.runs.map(({ segments, places }) => ({
    segments,
    places: places.map((p) => p && { band: p.band % n, repeat: p.repeat * times + Math.floor(p.band / n) }),
  }));
  return { ...laid, template: usualBands(runs, laid.template.slice(0, n), () => 1), runs };
}

function firstLooks(profile: CrossProfile, bands: readonly Segment[]): Looks {
  const width = profile.agreement.length;
  const columns = bands[bands.length - 1].to - bands[0].from;
  const across = lightOverRepeats(profile, columns);
  const template = bands.map((band) => ({
    lab: evenedBand(band, across, width).lab,
    columns: band.to - band.from,
  }));
  return { template, stretch: 0, across };
}

/** The pieces of the profile as a first laying has them, in order of growing column, each with whether it is the band due there. */
export function fittingPieces(
  profile: CrossProfile,
  bands: readonly Segment[],
): { from: number; to: number; fits: boolean }[] {
  const { template, across } = firstLooks(profile, bands);
  const area = areaOf(profile);
  const even = evened(profile, across);
  const level = () => 1;
  const fit = fitRepeat(even.lab, area.seen, area.from, area.to, template, level);
  const near = nearness(template);
  return placedRuns(even, fit, template).flatMap(({ segments, places }) =>
    segments.map((s, i) => {
      const own = places[i] && template[places[i].band];
      const cut = i === 0 || i === segments.length - 1;
      const fits =
        own !== null && cie76(s.lab, own.lab) <= near && (cut || widthFits(s.to - s.from, own.columns));
      return { from: s.from, to: s.to, fits };
    }),
  );
}

/** The same for a repeat of `times` as many bands, each as its own instances look. */
export function layLonger(profile: CrossProfile, laid: LaidRepeat, times: number): LaidRepeat | null {
  return layRepeat(profile, { template: longerTemplate(laid, times), stretch: 0, across: laid.across });
}

/** The same with a band and the next one of the repeat laid as one shaded band, with which the repeat then begins. */
export function layJoined(profile: CrossProfile, laid: LaidRepeat, band: number): LaidRepeat | null {
  const { template, across } = laid;
  const n = template.length;
  const [left, right] = [template[band], template[(band + 1) % n]];
  const columns = left.columns + right.columns;
  const joined: TemplateBand = {
    columns,
    lab: [0, 1, 2].map(
      (c) => (left.columns * left.lab[c] + right.columns * right.lab[c]) / columns,
    ) as unknown as Lab,
    run: usualRun(profile, laid, band),
  };
  const rest = Array.from({ length: n - 2 }, (_, i) => template[(band + 2 + i) % n]);
  return layRepeat(profile, { template: [joined, ...rest], stretch: 0, across });
}

/** What the colour runs by from the start of a band to the end of the next one: the median of those in view. */
function usualRun({ lab }: CrossProfile, { runs, template }: LaidRepeat, band: number): Lab {
  const next = (band + 1) % template.length;
  const found = runs.flatMap(({ segments, places }) =>
    segments.flatMap((s, i) =>
      places[i]?.band === band && places[i + 1]?.band === next
        ? [runOver(lab, s.from, segments[i + 1].to)]
        : [],
    ),
  );
  return [0, 1, 2].map((c) => (found.length > 0 ? median(found.map((run) => run[c])) : 0)) as unknown as Lab;
}

function layRepeat(profile: CrossProfile, first: Looks): LaidRepeat | null {
  const area = areaOf(profile);
  let looks = first;
  let even = evened(profile, looks.across);
  for (let round = 0; ; round++) {
    const wide = stretchOver(area, looks.stretch);
    const fit = fitRepeat(even.lab, area.seen, area.from, area.to, looks.template, wide);
    const runs = placedRuns(even, fit, looks.template);
    const score = scoreOf(even, runs, looks.template, wide);
    if (score < HOPELESS) return null;
    if (round === 2) {
      const sharp = sharpened(profile, runs, looks.across);
      return {
        template: looks.template,
        runs: sharp,
        across: looks.across,
        columns: profile.agreement.length,
        score,
        misfit: misfitOf(even, sharp),
      };
    }
    const more = lightOf(runs, profile, looks.template.length);
    const across = looks.across.map((g, k) => g + more[k]);
    even = evened(profile, across);
    const stretch = stretchOf(area, runs, looks.template);
    const template = usualBands(
      placedRuns(even, fit, looks.template),
      looks.template,
      stretchOver(area, stretch),
    );
    looks = { template, stretch, across };
  }
}

/**
 * A first look at the light: whatever is in a repeat, its mean over one whole repeat is the same everywhere, so what the mean does
 * is light. Level where less than a repeat and a half is in view.
 */
function lightOverRepeats({ linear, agreement, runs }: CrossProfile, columns: number): LightAcross {
  const width = agreement.length;
  const sums = new Float64Array(width + 1);
  const counts = new Float64Array(width + 1);
  const seen = new Uint8Array(width);
  for (const [from, to] of runs) seen.fill(1, from, to);
  for (let x = 0; x < width; x++) {
    const level = 0.2126 * linear[3 * x] + 0.7152 * linear[3 * x + 1] + 0.0722 * linear[3 * x + 2];
    sums[x + 1] = sums[x] + (seen[x] ? level : 0);
    counts[x + 1] = counts[x] + seen[x];
  }
  const from = Math.min(...runs.map((r) => r[0]));
  const to = Math.max(...runs.map((r) => r[1]));
  const window = Math.round(columns);
  if (to - from < 1.5 * window) return new Float64Array(NODES_ACROSS);
  const gains = Float64Array.from({ length: NODES_ACROSS }, (_, k) => {
    const middle = ((k + 0.5) * width) / NODES_ACROSS;
    const start = Math.round(Math.max(from, Math.min(to - window, middle - window / 2)));
    const count = counts[start + window] - counts[start];
    return count > 0.8 * window ? Math.log((sums[start + window] - sums[start]) / count + 1e-4) : Number.NaN;
  });
  const known = gains.filter((g) => !Number.isNaN(g));
  const mean = known.reduce((s, g) => s + g, 0) / Math.max(1, known.length);
  return gains.map((g) => (Number.isNaN(g) ? 0 : g - mean));
}

/** Edges and colours with the blur taken off; the colours then under even light. */
export function sharpened(
  { linear, agreement, runs: extents }: CrossProfile,
  runs: readonly PlacedRun[],
  across: LightAcross = new Float64Array(NODES_ACROSS),
): PlacedRun[] {
  const [longest] = extents;
  const sigma = edgeBlur(linear, longest[0], longest[1]);
  return runs.map(({ segments, places }) => {
    const [{ from }] = segments;
    const { to } = segments[segments.length - 1];
    const starts = segments.slice(1).map((s) => s.from);
    const sharp = sharpenBands(linear, from, to, starts, sigma);
    return { segments: sharp.map((s) => evenedBand(s, across, agreement.length)), places };
  });
}

/** Square root of linear light, in which noise is even: a column off by one of the first costs half a unit, none more than by one of the second. */
const LIGHT_SD = 0.015;
const FURTHEST_OFF = 0.15;

function misfitOf({ linear, runs: extents }: CrossProfile, runs: readonly PlacedRun[]): number {
  const [longest] = extents;
  const sigma = edgeBlur(linear, longest[0], longest[1]);
  let cost = 0;
  for (const { segments } of runs) {
    const model = blurredProfile(segments, sigma);
    const start = 3 * segments[0].from;
    for (let i = 0; i < model.length; i++) {
      const off = Math.sqrt(Math.max(0, model[i])) - Math.sqrt(linear[start + i]);
      cost += Math.min(off * off, FURTHEST_OFF ** 2) / (2 * LIGHT_SD ** 2);
    }
    cost += segments.length * (3 + Math.log(model.length / 3));
  }
  return cost;
}

function evenedBand(band: Segment, across: LightAcross, width: number): Segment {
  const gain = Math.exp(-acrossGainAt(across, (band.from + band.to) / 2, width));
  const linear = band.linear.map((v) => v * gain) as [number, number, number];
  return { ...band, linear, lab: labFromLinear(linear) };
}

interface Area {
  readonly seen: Uint8Array;
  readonly from: number;
  readonly to: number;
}

function areaOf({ runs, agreement }: CrossProfile): Area {
  const seen = new Uint8Array(agreement.length);
  for (const [from, to] of runs) seen.fill(1, from, to);
  return {
    seen,
    from: Math.min(...runs.map((r) => r[0])),
    to: Math.max(...runs.map((r) => r[1])),
  };
}

/** -1 at the first column of the area, 1 at its end. */
const placeIn = ({ from, to }: Area, column: number): number => (2 * column - from - to) / (to - from);

const stretchOver =
  (area: Area, stretch: number) =>
  (column: number): number =>
    Math.exp(stretch * placeIn(area, column));

/** Cuts the fitted pieces at the ends of the runs. */
function placedRuns(
  profile: CrossProfile,
  { starts, bands, repeats }: RepeatFit,
  template: readonly TemplateBand[],
): PlacedRun[] {
  const sorted = [...profile.runs].sort((p, q) => p[0] - q[0]);
  return sorted.flatMap(([from, to]) => {
    const first = starts.filter((s) => s <= from + 1).length - 1;
    const inside = starts.map((_, k) => k).filter((k) => starts[k] > from + 1 && starts[k] < to - 1);
    const pieces = [Math.max(0, first), ...inside];
    const segments = segmentsBetween(
      { ...profile, from, to },
      inside.map((k) => starts[k]),
    );
    const places = segments.map((s, i) => {
      const k = pieces[i];
      const own = template[bands[k]];
      const due = own.run ? dueAt(own, extentOf(segments, i, own.columns), (s.from + s.to) / 2) : own.lab;
      const fits = ciede2000(s.lab, due) <= 2 * ALIKE;
      return fits ? { band: bands[k], repeat: repeats[k] } : null;
    });
    return segments.length > 0 ? [{ segments, places }] : [];
  });
}

const lightOf = (runs: readonly PlacedRun[], profile: CrossProfile, bands: number): LightAcross =>
  lightBetweenRepeats(
    profile.agreement.length,
    NODES_ACROSS,
    runs.flatMap((r) => r.segments),
    runs.flatMap((r) => r.places),
    bands,
  );

function evened(profile: CrossProfile, across: LightAcross): CrossProfile {
  const columns = profile.agreement.length;
  const linear = Float32Array.from(profile.linear);
  const lab = Float32Array.from(profile.lab);
  for (const [from, to] of profile.runs) {
    for (let x = from; x < to; x++) {
      const gain = Math.exp(-acrossGainAt(across, x + 0.5, columns));
      for (let c = 0; c < 3; c++) linear[3 * x + c] *= gain;
      lab.set(labFromLinear([linear[3 * x], linear[3 * x + 1], linear[3 * x + 2]]), 3 * x);
    }
  }
  return { ...profile, linear, lab };
}

/** Slope of the log widths about the template over the area, wide bands counting more. */
function stretchOf(area: Area, runs: readonly PlacedRun[], template: readonly TemplateBand[]): number {
  const points: { x: number; y: number; w: number }[] = [];
  for (const { segments, places } of runs) {
    for (let i = 1; i + 1 < segments.length; i++) {
      const place = places[i];
      if (!place) continue;
      const width = segments[i].to - segments[i].from;
      const y = Math.log(width / template[place.band].columns);
      if (Math.abs(y) > Math.log(WIDTH_JUMP)) continue;
      points.push({ x: placeIn(area, (segments[i].from + segments[i].to) / 2), y, w: width });
    }
  }
  const total = points.reduce((s, p) => s + p.w, 0);
  if (points.length < 2 * template.length || total === 0) return 0;
  const x0 = points.reduce((s, p) => s + p.w * p.x, 0) / total;
  const y0 = points.reduce((s, p) => s + p.w * p.y, 0) / total;
  const xx = points.reduce((s, p) => s + p.w * (p.x - x0) ** 2, 0);
  const xy = points.reduce((s, p) => s + p.w * (p.x - x0) * (p.y - y0), 0);
  return xx > 0.05 * total ? xy / xx : 0;
}

/** The template of a repeat `times` as long, each band as its own instances look. */
function longerTemplate({ template, runs }: LaidRepeat, times: number): TemplateBand[] {
  const n = template.length;
  const longer = runs.map(({ segments, places }) => ({
    segments,
    places: places.map(
      (p) => p && { band: (p.repeat % times) * n + p.band, repeat: Math.floor(p.repeat / times) },
    ),
  }));
  return usualBands(
    longer,
    Array.from({ length: n * times }, (_, b) => template[b % n]),
    () => 1,
  );
}

/** Median colour and width of every band over its instances; as before where none is seen. */
function usualBands(
  runs: readonly PlacedRun[],
  template: readonly TemplateBand[],
  wide: (column: number) => number,
): TemplateBand[] {
  return template.map((held, band) => {
    const labs: Lab[] = [];
    const widths: number[] = [];
    for (const { segments, places } of runs) {
      segments.forEach((s, i) => {
        if (places[i]?.band !== band) return;
        labs.push(s.lab);
        if (i > 0 && i < segments.length - 1) widths.push((s.to - s.from) / wide((s.from + s.to) / 2));
      });
    }
    return {
      ...held,
      lab:
        labs.length > 0 ? ([0, 1, 2].map((c) => median(labs.map((l) => l[c]))) as unknown as Lab) : held.lab,
      columns: widths.length > 0 ? median(widths) : held.columns,
    };
  });
}
