import { describe, expect, it } from 'vitest';
import type { Outcome } from '../../../src/core/base/outcome.js';
import { readStripes } from '../../../src/core/stripes/read-stripes.js';
import type { RoughReading } from '../../../src/core/stripes/stripe-reading.js';
import type { StripeSummary } from '../../../src/core/stripes/stripe-summary.js';
import { type EdgeTraces, summariseStripes } from '../../../src/core/stripes/summarise-stripes.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';
import { DYES } from '../../support/sample-scenes.js';
import { MM_PER_COLUMN, type PaintedStraight, paintStraight } from '../../support/straight-cloth-painter.js';

const WINDOWS = 12;
const bands = [
  { colour: DYES.indigo, width: 90 },
  { colour: DYES.ivory, width: 30 },
  { colour: DYES.ochre, width: 20 },
  { colour: DYES.ivory, width: 45 },
];
const REPEAT_MM = 185 * MM_PER_COLUMN;

const painted = paintStraight({ bands, columns: 1500, rows: 160, start: 37.3, seed: 3, dirt: { noise: 3 } });
const reading = ((): RoughReading => {
  const outcome = readStripes(painted.cloth, 'stripe');
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value;
})();

function measured(outcome: Outcome<StripeSummary>): StripeSummary {
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value;
}

/** The painter's own edges, each off by `sdMm` as a whole: what tracing would give on cloth so uneven. */
function summary(
  sdMm: number,
  seed = 1,
  scaleRelativeSd = 0,
  truth: PaintedStraight = painted,
): StripeSummary {
  const random = seededRandom(seed);
  const uMm = new Float64Array(reading.edges.length * WINDOWS).fill(Number.NaN);
  reading.edges.forEach((edge, e) => {
    const known = truth.edges.reduce((p, q) =>
      Math.abs(q.column - edge.column) < Math.abs(p.column - edge.column) ? q : p,
    );
    uMm.fill(known.column * MM_PER_COLUMN + sdMm * random.gaussian(), e * WINDOWS, (e + 1) * WINDOWS);
  });
  return measured(
    summariseStripes(reading, truth.cloth, { windows: WINDOWS, uMm, blurMm: 0.1 }, scaleRelativeSd),
  );
}

/** Every edge of a reading in all windows where the reading has it. */
function tracesOf({ edges }: RoughReading): EdgeTraces {
  const uMm = new Float64Array(edges.length * WINDOWS);
  edges.forEach(({ column }, e) => {
    uMm.fill(column * MM_PER_COLUMN, e * WINDOWS, (e + 1) * WINDOWS);
  });
  return { windows: WINDOWS, uMm, blurMm: 0.1 };
}

describe('summariseStripes', () => {
  it('leave out an instance that ends far too early: the selvage, or something that lies over its edge', () => {
    const plain = summary(0.02);
    const uMm = new Float64Array(reading.edges.length * WINDOWS).fill(Number.NaN);
    reading.edges.forEach((edge, e) => {
      uMm.fill(edge.column * MM_PER_COLUMN, e * WINDOWS, (e + 1) * WINDOWS);
    });
    // The last edge of all, moved half a band inwards.
    const last = reading.edges.length - 1;
    const shift = 0.5 * (uMm[last * WINDOWS] - uMm[(last - 1) * WINDOWS]);
    for (let w = 0; w < WINDOWS; w++) uMm[last * WINDOWS + w] -= shift;
    const told = measured(
      summariseStripes(reading, painted.cloth, { windows: WINDOWS, uMm, blurMm: 0.1 }, 0),
    );
    told.bands.forEach((band, b) => {
      expect(Math.abs(band.width_mm - plain.bands[b].width_mm)).toBeLessThan(0.25);
      expect(band.width_min_mm).toBeGreaterThan(0.9 * band.width_mm);
    });
  });

  it('say how far a mean width may be off: what many cloths as uneven would give, and at least the scale', () => {
    const sdMm = 0.3;
    const many = Array.from({ length: 12 }, (_, seed) => summary(sdMm, seed + 1).bands[0]);
    const mean = many.reduce((s, b) => s + b.width_mm, 0) / many.length;
    const spread = Math.sqrt(many.reduce((s, b) => s + (b.width_mm - mean) ** 2, 0) / (many.length - 1));
    const told = many.reduce((s, b) => s + (b.width_mean_sd_mm ?? Number.NaN), 0) / many.length;
    // Twelve tell a spread to a fifth.
    expect(told / spread).toBeGreaterThan(0.6);
    expect(told / spread).toBeLessThan(1.7);
    const [band] = summary(0, 1, 0.01).bands;
    expect(band.width_mean_sd_mm).toBeGreaterThanOrEqual(0.01 * band.width_mm);
  });

  it('lists a band that shows on both sides of a ruler once, and whole where both its edges are seen', () => {
    const { columns, width } = { columns: 1500, width: 90 };
    const start = 37.3 + 2 * 185;
    const hidden = (x: number) => x > start + 20 && x < start + 50;
    const covered = paintStraight({
      bands,
      columns,
      rows: 160,
      start: 37.3,
      seed: 3,
      dirt: { noise: 3, hidden },
    });
    const outcome = readStripes(covered.cloth, 'stripe');
    if (!outcome.ok) throw new Error(outcome.refusal.found);
    const uMm = Float64Array.from({ length: outcome.value.edges.length * WINDOWS }, (_, i) => {
      return outcome.value.edges[Math.floor(i / WINDOWS)].column * MM_PER_COLUMN;
    });
    const { instances, bands: found } = measured(
      summariseStripes(outcome.value, covered.cloth, { windows: WINDOWS, uMm, blurMm: 0.1 }, 0),
    );
    expect(new Set(instances.map((i) => `${i.band} ${i.repeat}`)).size).toBe(instances.length);
    const wide = instances.filter((i) => i.band === found[0].id);
    expect(wide.every((i) => i.whole)).toBe(true);
    for (const i of wide) expect(i.width_mm).toBeCloseTo(width * MM_PER_COLUMN, 1);
  });

  it('gives what was painted when the edges are exact', () => {
    const { repeat, bands: found, symmetry, instances } = summary(0);
    expect(repeat.across_mm).toBeCloseTo(REPEAT_MM, 6);
    expect(repeat.across_sd_mm).toBeLessThan(1e-6);
    // The widest band is b1; widths follow in order of growing u.
    expect(found.map((b) => b.width_mm)).toEqual(
      bands.map((b) => expect.closeTo(b.width * MM_PER_COLUMN, 6)),
    );
    expect(found[0].start_mm).toBe(0);
    expect(symmetry.balanced).toBe(false);
    for (const i of instances) {
      const b = found.find(({ id }) => id === i.band)!;
      expect(i.start_mm).toBeCloseTo(i.repeat * REPEAT_MM + b.start_mm, 6);
    }
  });

  it('keeps its laws: widths add up to the repeat, shares and mixes to one, whole instances end where they say', () => {
    const { repeat, bands: found, colours, instances } = summary(0.05);
    const sum = found.reduce((s, b) => s + b.width_mm, 0);
    // Means over whole instances and the lattice's period differ by the scatter of single edges only.
    expect(Math.abs(sum - repeat.across_mm!)).toBeLessThan(0.1);
    expect(colours.reduce((s, c) => s + c.share, 0)).toBeCloseTo(1, 9);
    for (const b of found) expect(b.mix.reduce((s, m) => s + m.share, 0)).toBeCloseTo(1, 9);
    for (const i of instances) expect(i.end_mm - i.start_mm).toBeCloseTo(i.width_mm, 9);
    expect(new Set(instances.map((i) => `${i.band} ${i.repeat}`)).size).toBe(instances.length);
  });

  it('shares of the cloth follow from the widths', () => {
    const { colours } = summary(0);
    expect(colours.map((c) => c.share)).toEqual([
      expect.closeTo(90 / 185, 6),
      expect.closeTo(75 / 185, 6),
      expect.closeTo(20 / 185, 6),
    ]);
    expect(colours.map((c) => c.id)).toEqual(['A', 'B', 'C']);
  });

  it('knows the repeat as well as the edges allow: the least-squares bound sd / sqrt(sum (k - mean)^2)', () => {
    const sdMm = 0.08;
    const trials = 60;
    const errors = Array.from(
      { length: trials },
      (_, t) => summary(sdMm, t + 1).repeat.across_mm! - REPEAT_MM,
    );
    const spread = Math.sqrt(errors.reduce((s, e) => s + e * e, 0) / trials);
    // Repeat numbers about their mean, band by band: each band's place is unknown, too.
    const byBand = new Map<number, number[]>();
    for (const e of painted.edges) byBand.set(e.band, [...(byBand.get(e.band) ?? []), e.repeat]);
    let leverage = 0;
    for (const ks of byBand.values()) {
      const mean = ks.reduce((s, k) => s + k, 0) / ks.length;
      leverage += ks.reduce((s, k) => s + (k - mean) ** 2, 0);
    }
    const bound = sdMm / Math.sqrt(leverage);
    // 60 trials know a standard deviation to 9 %; holding down strays costs up to 5 % (Huber).
    expect(spread / bound).toBeGreaterThan(0.7);
    expect(spread / bound).toBeLessThan(1.35);
    const stated = summary(sdMm, 5).repeat.across_sd_mm!;
    expect(stated / bound).toBeGreaterThan(0.6);
    expect(stated / bound).toBeLessThan(1.6);
  });

  it('adds the scale’s own error to the repeat’s', () => {
    const plain = summary(0.05).repeat;
    const scaled = summary(0.05, 1, 0.002).repeat;
    expect(scaled.across_sd_mm).toBeCloseTo(Math.hypot(plain.across_sd_mm!, 0.002 * plain.across_mm!), 9);
    expect(scaled.across_reading_sd_mm).toBeCloseTo(plain.across_reading_sd_mm!, 12);
  });

  it('measures unevenness from band to band and does not average it away', () => {
    const sdMm = 0.3;
    const { bands: found } = summary(sdMm, 8);
    for (const b of found) {
      // Two edges, each off by sdMm.
      expect(b.width_sd_mm!).toBeGreaterThan(0.45 * sdMm);
      expect(b.width_sd_mm!).toBeLessThan(2.6 * sdMm);
      expect(b.width_min_mm!).toBeLessThan(b.width_mm);
      expect(b.width_max_mm!).toBeGreaterThan(b.width_mm);
    }
  });
});

describe('summariseStripes without edges', () => {
  it('refuses, and lets no number through that is none', () => {
    const uMm = new Float64Array(reading.edges.length * WINDOWS).fill(Number.NaN);
    const outcome = summariseStripes(reading, painted.cloth, { windows: WINDOWS, uMm, blurMm: 0.1 }, 0);
    expect(outcome.ok ? null : outcome.refusal.reason).toBe('no-stripes');
  });

  it.each([
    ['refuses bands that come once at one side of the view, as a selvage does', 30, false],
    ['tells bands that come once if they take up much of the view', 250, true],
  ])('%s', (_, width, told) => {
    const side = [DYES.indigo, DYES.ivory, DYES.ochre, DYES.indigo].map((colour, i) => ({
      colour,
      width: [1500 - 2 * width - 200, width, width, 200][i],
    }));
    const once = paintStraight({
      bands: side,
      columns: 1500,
      rows: 160,
      start: 0,
      seed: 5,
      dirt: { noise: 3 },
    });
    const read = readStripes(once.cloth, 'stripe');
    if (!read.ok) throw new Error(read.refusal.found);
    const outcome = summariseStripes(read.value, once.cloth, tracesOf(read.value), 0);
    expect(outcome.ok).toBe(told);
    if (!outcome.ok) expect(outcome.refusal.reason).toBe('no-stripes');
  });

  it('tells bands as seen when one of the repeat has no edge anywhere', () => {
    const n = reading.bandsPerRepeat ?? 1;
    const uMm = new Float64Array(reading.edges.length * WINDOWS).fill(Number.NaN);
    reading.edges.forEach((edge, e) => {
      if (reading.places[edge.right]?.band === n - 1) return;
      uMm.fill(edge.column * MM_PER_COLUMN, e * WINDOWS, (e + 1) * WINDOWS);
    });
    const told = measured(
      summariseStripes(reading, painted.cloth, { windows: WINDOWS, uMm, blurMm: 0.1 }, 0),
    );
    expect(told.repeat.across_mm).toBeNull();
    for (const band of told.bands) expect(Number.isFinite(band.width_mm)).toBe(true);
  });

  it('tells bands as seen where those of a supposed repeat do not fill it', () => {
    // Less than two repeats of four bands in view, taken for three of two: wide and narrow ones are not met equally often.
    const short = paintStraight({
      bands: [80, 70, 100, 74].map((width, i) => ({ colour: i % 2 ? DYES.ivory : DYES.indigo, width })),
      columns: 520,
      rows: 160,
      start: 10,
      seed: 4,
      dirt: { noise: 3 },
    });
    const outcome = readStripes(short.cloth, 'stripe');
    if (!outcome.ok) throw new Error(outcome.refusal.found);
    const places = outcome.value.segments.map((_, i) => ({ band: i % 2, repeat: Math.floor(i / 2) }));
    const told = measured(
      summariseStripes(
        { ...outcome.value, bandsPerRepeat: 2, repeatColumns: 162, places },
        short.cloth,
        tracesOf(outcome.value),
        0,
      ),
    );
    expect(told.repeat.across_mm).toBeNull();
    expect(told.bands.length).toBeGreaterThan(1);
  });
});
