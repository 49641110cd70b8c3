import { Matrix, solve } from 'ml-matrix';
import { ciede2000 } from '../colour/ciede2000.js';
import { fTailProbability } from '../math/f-test.js';
import { pairSlopes } from '../math/median-slope.js';
import { median } from '../math/robust.js';
import { widthFits } from './laid-score.js';
import type { LaidRepeat } from './lay-repeat.js';
import { acrossGainAt } from './light-between-repeats.js';
import type { BandPlace } from './stripe-reading.js';

/** A longer repeat is taken only if chance would make it look that much better once in ten thousand times ... */
const CHANCE = 1e-4;
/** ... and if its bands then differ enough to be seen (root mean square, logarithms): width, luminance, red and blue to green. */
const LEAST_EFFECT = [0.015, 0.03, 0.03, 0.03];
/** What a reading may be off though bands are equal: as a part of a column of width; logarithm of light. */
const COLUMN_SD = 0.05;
const LIGHT_SD = 0.006;
/** Place of the width among the values of a band. */
const WIDTH = 0;
/** What widths of equal bands scatter on cloth, as a logarithm, is known beforehand as well as so many degrees of freedom would tell it. */
const EXPECTED_SD = 0.02;
const EXPECTED_FREEDOM = 8;
/** No weaver's repeat hides in more likenesses of itself than this. */
const MOST_TIMES = 12;
/** Steps of the drift at most, and degrees of freedom that must be left for it to step at every repeat. */
const MOST_STEPS = 24;
const ENOUGH_FREEDOM = 4;
/** Linear light below which a colour's logarithm means nothing. */
const DARK = 0.01;

interface BandReading {
  /** Place in the row of all bands of the cloth. */
  readonly count: number;
  /** 0 .. 1 over the picture. */
  readonly x: number;
  /** Logarithms of width (NaN for a band cut off or far from usual), luminance, red to green, blue to green. */
  readonly values: readonly number[];
  readonly floors: readonly number[];
}

/**
 * How many of the short repeats make the true one: the smallest number that explains what shorter ones leave, by F tests. A
 * multiple always fits better; it is taken only where the gain in width or colour is beyond what chance gives its extra
 * classes and enough to see (A B A C with B close to C).
 */
export function timesLonger(laid: LaidRepeat): number {
  const rows = bandReadings(laid);
  const counts = rows.map((r) => r.count);
  const n = laid.template.length;
  const repeats = (Math.max(...counts) - Math.min(...counts) + 1) / n;
  const smooth = smoothDrift(repeats);
  let times = 1;
  // Multiples that a drift stepping at every repeat, or bending within it, explains as well: what is a multiple of theirs must do better than they.
  const doubted: number[] = [];
  for (let k = 2; k <= Math.min(MOST_TIMES, repeats / 2); k++) {
    if (k % times !== 0 || !isBetterSmoothly(rows, n * times, n * k, smooth)) continue;
    if (doubted.some((d) => k % d === 0 && !isBetterSmoothly(rows, n * d, n * k, smooth))) continue;
    if (isNoDrift(rows, n * times, n * k, smooth)) times = k;
    else doubted.push(k);
  }
  return times;
}

/** Two bands of a template are alike within this: CIEDE2000, logarithm of width. */
const ALIKE_COLOUR = 3;
const ALIKE_WIDTH = 0.08;

/**
 * How many times a repeat contains a shorter one: where strong perspective or a fold keeps the short one from fitting as a whole, several of it
 * may fit. The most for which all its bands are alike in turn and their instances do not tell them apart.
 */
export function timesShorter(laid: LaidRepeat): number {
  const { template } = laid;
  const rows = bandReadings(laid);
  const counts = rows.map((r) => r.count);
  const repeats = (Math.max(...counts) - Math.min(...counts) + 1) / template.length;
  for (let times = Math.floor(template.length / 2); times > 1; times--) {
    if (template.length % times !== 0) continue;
    const n = template.length / times;
    const alike = template.every(({ lab, columns }, b) => {
      const other = template[(b + n) % template.length];
      return (
        ciede2000(lab, other.lab) < ALIKE_COLOUR && Math.abs(Math.log(columns / other.columns)) < ALIKE_WIDTH
      );
    });
    if (alike && !isBetter(rows, n, template.length, smoothDrift(repeats * times))) return times;
  }
  return 1;
}

/** A band seen whole: its repeat, where its middle lies, and the logarithm of its width, columns. */
interface Instance {
  readonly repeat: number;
  readonly x: number;
  readonly y: number;
}

/** Instances of every band of the repeat that are seen whole. */
function instancesOf({ runs, template }: LaidRepeat): Instance[][] {
  const found = template.map((): Instance[] => []);
  for (const { segments, places } of runs) {
    for (let i = 1; i + 1 < segments.length; i++) {
      const place = places[i];
      const { from, to } = segments[i];
      if (place) found[place.band].push({ repeat: place.repeat, x: (from + to) / 2, y: Math.log(to - from) });
    }
  }
  return found;
}

/**
 * Bands about as wide as no other of their place, by `band` and `repeat`: the cloth ends in them, or something lies on them, and
 * they say nothing. What tilt does to widths is allowed for.
 */
function oddWidths(laid: LaidRepeat): (place: BandPlace) => boolean {
  const instances = instancesOf(laid);
  const slopes = instances.flatMap(pairSlopes);
  const slope = slopes.length > 0 ? median(slopes) : 0;
  const odd = instances.map((all) => {
    // As wide as q would be where p lies.
    const fits = (p: Instance, q: Instance): boolean =>
      q.repeat !== p.repeat && widthFits(Math.exp(p.y), Math.exp(q.y + slope * (p.x - q.x)));
    return new Set(
      all.filter((p) => all.length > 1 && !all.some((q) => fits(p, q))).map(({ repeat }) => repeat),
    );
  });
  return ({ band, repeat }) => odd[band].has(repeat);
}

function bandReadings(laid: LaidRepeat): BandReading[] {
  const { runs, template, across, columns } = laid;
  const isOdd = oddWidths(laid);
  const segments = runs.flatMap((r) => r.segments);
  const from = segments[0].from;
  const to = segments[segments.length - 1].to;
  return runs.flatMap((run) =>
    run.segments.flatMap((s, i) => {
      const place = run.places[i];
      if (place === null) return [];
      const whole = i > 0 && i < run.segments.length - 1;
      const width = s.to - s.from;
      // As photographed: what was taken for light under the short repeat may be the colours of a longer one.
      const light = Math.exp(acrossGainAt(across, (s.from + s.to) / 2, columns));
      const [red, green, blue] = s.linear.map((v) => Math.max(0, v * light) + DARK);
      const luminance = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
      return [
        {
          count: place.repeat * template.length + place.band,
          x: ((s.from + s.to) / 2 - from) / (to - from),
          values: [
            whole && !isOdd(place) ? Math.log(width) : Number.NaN,
            Math.log(luminance),
            Math.log(red / green),
            Math.log(blue / green),
          ],
          floors: [Math.hypot(0.003, COLUMN_SD / width), LIGHT_SD, LIGHT_SD, LIGHT_SD],
        },
      ];
    }),
  );
}

/** Where a band lies among the drift's nodes: on node floor(place), and by its fraction on the next. */
interface Drift {
  readonly nodes: number;
  readonly placeOf: (row: BandReading) => number;
}

/** What light and perspective change: smooth over the picture. */
function smoothDrift(repeats: number): Drift {
  const nodes = repeats < 5 ? 2 : Math.min(12, 1 + Math.floor(repeats / 2));
  return { nodes, placeOf: ({ x }) => Math.min(nodes - 1.001, x * (nodes - 1)) };
}

/** Do classes over `long` bands explain more than those over `short`, beside a smooth drift? */
const isBetterSmoothly = (
  rows: readonly BandReading[],
  short: number,
  long: number,
  smooth: Drift,
): boolean => isBetterOver(rows, short, long, smooth, smooth);

/**
 * The same beside a drift that steps at every repeat: folds and shadows some repeats apart come back like a longer repeat, but they
 * move all bands of a place together. True, too, where bands are too few to tell.
 */
function isBetterInSteps(rows: readonly BandReading[], short: number, long: number, smooth: Drift): boolean {
  const repeatOf = ({ count }: BandReading): number => Math.floor(count / short);
  const first = Math.min(...rows.map(repeatOf));
  const repeats = Math.max(...rows.map(repeatOf)) - first + 1;
  const each = Math.ceil(repeats / MOST_STEPS);
  const steps: Drift = {
    nodes: Math.ceil(repeats / each) + 1,
    placeOf: (row) => Math.floor((repeatOf(row) - first) / each),
  };
  return rows.length - long - steps.nodes < ENOUGH_FREEDOM || isBetterOver(rows, short, long, steps, smooth);
}

/**
 * The same beside a drift that bends within a repeat, as a soft shadow does: it moves neighbouring bands together, and a longer repeat
 * does not. True, too, where bands are too few to tell.
 */
function isBetterInWaves(rows: readonly BandReading[], short: number, long: number, smooth: Drift): boolean {
  const counts = rows.map(({ count }) => count);
  const first = Math.min(...counts);
  const total = Math.max(...counts) - first + 1;
  const apart = Math.max(FEWEST_MOVED, short / 2, total / MOST_STEPS);
  const waves: Drift = {
    nodes: Math.ceil(total / apart) + 1,
    placeOf: ({ count }) => (count - first) / apart,
  };
  // Further apart than the smooth drift's own nodes they tell nothing new.
  if (waves.nodes <= smooth.nodes) return true;
  return rows.length - long - waves.nodes < ENOUGH_FREEDOM || isBetterOver(rows, short, long, waves, smooth);
}

/** A bend of the light is told by so many bands that it moves alike. */
const FEWEST_MOVED = 4;

const isNoDrift = (rows: readonly BandReading[], short: number, long: number, smooth: Drift): boolean =>
  isBetterInSteps(rows, short, long, smooth) && isBetterInWaves(rows, short, long, smooth);

const isBetter = (rows: readonly BandReading[], short: number, long: number, smooth: Drift): boolean =>
  isBetterSmoothly(rows, short, long, smooth) && isNoDrift(rows, short, long, smooth);

/** Whether chance would not make the longer repeat look so much better. A class seen once explains nothing and is left out. */
function isBetterOver(
  rows: readonly BandReading[],
  short: number,
  long: number,
  drift: Drift,
  smooth: Drift,
): boolean {
  return LEAST_EFFECT.some((leastEffect, v) => {
    const known = rows.filter((r) => !Number.isNaN(r.values[v]));
    const witnesses = withoutLoneStrays(known, v, short, long, smooth);
    const used = seenAgain(withoutStrays(seenAgain(witnesses, long), v, long, smooth), long);
    const p = residual(used, v, short, drift);
    const q = residual(used, v, long, drift);
    const d1 = q.classes - p.classes;
    const d2 = used.length - q.classes - drift.nodes;
    if (d1 < 1 || d2 < (v === WIDTH ? 0 : 2)) return false;
    const own = { rss: q.rss, freedom: d2 };
    const noise = v === WIDTH ? moderated(own) : own;
    const floor = (noise.freedom * used.reduce((s, r) => s + r.floors[v] ** 2, 0)) / used.length;
    const gain = Math.max(0, p.rss - q.rss);
    const f = gain / d1 / (Math.max(noise.rss, floor) / noise.freedom);
    return Math.sqrt(gain / used.length) > leastEffect && fTailProbability(f, d1, noise.freedom) < CHANCE;
  });
}

interface Noise {
  readonly rss: number;
  readonly freedom: number;
}

/** Where few repeats are in view, the scatter they show says little beside what cloth usually does (moderated F; Smyth 2004, doi 10.2202/1544-6115.1027). */
const moderated = ({ rss, freedom }: Noise): Noise => ({
  rss: rss + EXPECTED_FREEDOM * EXPECTED_SD ** 2,
  freedom: freedom + EXPECTED_FREEDOM,
});

/**
 * Sum of squares of one value about class means and a drift common to all classes: what perspective does to widths and light to
 * colours. The drift runs in straight lines from node to node. Class means are eliminated by centring within classes (Frisch and Waugh 1933, doi 10.2307/1907330).
 */
function residual(
  rows: readonly BandReading[],
  v: number,
  bands: number,
  { nodes, placeOf }: Drift,
): { rss: number; classes: number; missOf: (row: BandReading) => number } {
  const sums = new Map<number, ClassSums>();
  const normal = new Float64Array(nodes * nodes);
  const right = new Float64Array(nodes);
  for (const r of rows) {
    const y = r.values[v];
    const at = placeOf(r);
    const left = Math.floor(at);
    const onRight = at - left;
    const onLeft = 1 - onRight;
    const key = mod(r.count, bands);
    let own = sums.get(key);
    if (own === undefined) {
      own = { n: 0, y: 0, yy: 0, hats: new Float64Array(nodes) };
      sums.set(key, own);
    }
    own.n++;
    own.y += y;
    own.yy += y * y;
    own.hats[left] += onLeft;
    own.hats[left + 1] += onRight;
    right[left] += onLeft * y;
    right[left + 1] += onRight * y;
    normal[left * nodes + left] += onLeft * onLeft;
    normal[(left + 1) * nodes + left + 1] += onRight * onRight;
    normal[left * nodes + left + 1] += onLeft * onRight;
    normal[(left + 1) * nodes + left] += onLeft * onRight;
  }
  let yy = 0;
  for (const own of sums.values()) yy += centre(own, normal, right);
  for (let k = 0; k < nodes; k++) normal[k * nodes + k] += 1e-6;
  const column = Matrix.columnVector(right);
  const drift = solve(Matrix.from1DArray(nodes, nodes, normal), column);
  const driftAt = (place: number): number => {
    const left = Math.floor(place);
    return drift.get(left, 0) + (place - left) * (drift.get(left + 1, 0) - drift.get(left, 0));
  };
  const missOf = (row: BandReading): number => {
    const own = sums.get(mod(row.count, bands)) as ClassSums;
    const mean = own.y - own.hats.reduce((sum, hat, k) => sum + hat * drift.get(k, 0), 0);
    return row.values[v] - driftAt(placeOf(row)) - mean / own.n;
  };
  return { rss: Math.max(0, yy - column.dot(drift)), classes: sums.size, missOf };
}

/** A band this many robust standard deviations off is cut short by something, and no witness; no more than this part of all are. */
const STRAY = 6;
const MOST_STRAYS = 0.1;

/** The bands of classes that are seen more than once: one alone explains nothing. */
function seenAgain(rows: readonly BandReading[], long: number): readonly BandReading[] {
  const seen = new Map<number, number>();
  for (const { count } of rows) seen.set(mod(count, long), (seen.get(mod(count, long)) ?? 0) + 1);
  return rows.filter(({ count }) => (seen.get(mod(count, long)) ?? 0) > 1);
}

/** So many bands may lie under a print or a shadow of their own. */
const MOST_LONE = 0.25;

/**
 * The bands without those that look unlike all others of the shorter repeat while their own likes of the longer one do not: something
 * lies over them, and of two in a class the one that is right could not be told later.
 */
function withoutLoneStrays(
  rows: readonly BandReading[],
  v: number,
  short: number,
  long: number,
  drift: Drift,
): readonly BandReading[] {
  const usual = new Set(withoutStrays(seenAgain(rows, short), v, short, drift, MOST_LONE));
  return rows.filter((row) => {
    if (usual.has(row)) return true;
    const likes = rows.filter((r) => r !== row && mod(r.count, long) === mod(row.count, long));
    return likes.filter((r) => usual.has(r)).length <= likes.length / 2;
  });
}

/** The bands without those that even the longer repeat does not explain, for which either must answer. */
function withoutStrays(
  rows: readonly BandReading[],
  v: number,
  long: number,
  drift: Drift,
  most = MOST_STRAYS,
): readonly BandReading[] {
  let kept = rows;
  // The worst first, since it draws the rest with it.
  for (let left = Math.floor(most * rows.length); left > 0; left--) {
    const { missOf } = residual(kept, v, long, drift);
    const misses = kept.map((row) => Math.abs(missOf(row)));
    const worst = misses.indexOf(Math.max(...misses));
    if (misses[worst] <= STRAY * Math.max(LIGHT_SD, 1.4826 * median(misses))) break;
    kept = kept.filter((_, i) => i !== worst);
  }
  return kept;
}

interface ClassSums {
  n: number;
  y: number;
  yy: number;
  /** Of the drift's straight pieces, one a node. */
  readonly hats: Float64Array;
}

/** Takes the part of a class's mean out of the normal equations; returns what is left of its squares. */
function centre({ n, y, yy, hats }: ClassSums, normal: Float64Array, right: Float64Array): number {
  const nodes = hats.length;
  for (let p = 0; p < nodes; p++) {
    if (hats[p] === 0) continue;
    right[p] -= (hats[p] * y) / n;
    for (let q = 0; q < nodes; q++) normal[p * nodes + q] -= (hats[p] * hats[q]) / n;
  }
  return yy - (y * y) / n;
}

const mod = (value: number, n: number): number => ((value % n) + n) % n;
