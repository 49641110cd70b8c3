import { describe, expect, it } from 'vitest';
import { quantile } from '../../../../src/core/math/robust.js';
import type { BandModel } from '../../../../src/core/model/band-model.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../../src/core/pipeline/preview-seam.js';
import type { SeamPreview } from '../../../../src/core/seam/chevron-preview.js';
import { edgeVariances } from '../../../../src/core/seam/expect/edge-variances.js';
import { seededRandom } from '../../../support/photo-painter/seeded-random.js';
import { tickingModel } from '../../../support/seam/models.js';

const preview = (model: BandModel, centre: string, angle: number, more = {}): SeamPreview => {
  const outcome = previewSeams(model, {
    ...DEFAULT_CHEVRON,
    angles: [[angle, angle]],
    centres: [centre],
    ...more,
  });
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value.rows[0][0];
};

describe('edges that explain the widths', () => {
  it('vary so that each width, the difference of two, varies as stated', () => {
    for (const truth of [
      [0.04, 0.09, 0.01],
      [0.04, 0.09, 0.01, 0.16],
    ]) {
      const widths = truth.map((v, k) => v + truth[(k + 1) % truth.length]);
      const edges = edgeVariances(widths.map(Math.sqrt));
      for (const [k, v] of edges.entries())
        expect(v + edges[(k + 1) % edges.length]).toBeCloseTo(widths[k], 3);
    }
  });

  it('come near where no edges explain them, as with one uneven band among steady ones', () => {
    const edges = edgeVariances([1, 0, 0, 0]);
    expect(edges.every((v) => v >= 0)).toBe(true);
    expect(edges[0] + edges[1]).toBeGreaterThan(0.3);
    expect(edges[2] + edges[3]).toBeLessThan(0.3);
  });

  it('stay still where nothing is uneven', () => {
    expect(edgeVariances([0, 0, 0])).toEqual([0, 0, 0]);
  });
});

describe('mismatch foretold from the spread of widths', () => {
  const model = tickingModel();

  it.each([30, 45, 90])('agrees with chance at %i degrees', (angle) => {
    const one = preview(model, 'b3', angle);
    expect(one.basis).toBe('widths');
    const sds = edgeVariances(model.bands.map((b) => b.width_sd_mm as number)).map(Math.sqrt);
    const random = seededRandom(31);
    const n = model.bands.length;
    const rounds = 10_000;
    // Two halves, every edge straying by itself, both set by the middle of the band at the ring.
    const misses = one.match.crossings.map(() => new Float64Array(rounds));
    const worst = new Float64Array(rounds);
    const sewn = new Float64Array(rounds);
    for (let r = 0; r < rounds; r++) {
      const half = (): ((m: number) => number) => {
        const off = new Map<number, number>();
        const edge = (m: number): number => {
          const k = (((2 + m) % n) + n) % n;
          const known = off.get(m) ?? sds[k] * random.gaussian();
          off.set(m, known);
          return known;
        };
        return (m) => edge(m) - (edge(0) + edge(1)) / 2;
      };
      const [left, right] = [half(), half()];
      // 1.5 mm along the seam nine times in ten: 1.645 standard deviations.
      const slip = (1.5 / 1.645) * random.gaussian();
      one.match.crossings.forEach((c, i) => {
        const miss = (right(c.edge) - left(c.edge)) / Math.sin((angle * Math.PI) / 180);
        misses[i][r] = Math.abs(miss);
        worst[r] = Math.max(worst[r], Math.abs(miss));
        sewn[r] = Math.max(sewn[r], Math.abs(miss + slip));
      });
    }
    for (const q of [0.5, 0.9] as const) {
      const key = q === 0.5 ? 'median' : 'p90';
      expect(one.worst?.cloth[key] ?? 0).toBeGreaterThan(0.96 * quantile(worst, q));
      expect(one.worst?.cloth[key] ?? 0).toBeLessThan(1.04 * quantile(worst, q));
      expect(one.worst?.sewn[key] ?? 0).toBeGreaterThan(0.96 * quantile(sewn, q));
      expect(one.worst?.sewn[key] ?? 0).toBeLessThan(1.04 * quantile(sewn, q));
    }
    one.expected.forEach((figures, i) => {
      // Standard error of a median of 10 000, and of a 90th percentile: 1.2 %. Allowed: three of them.
      expect(figures?.median ?? 0).toBeGreaterThan(0.96 * quantile(misses[i], 0.5));
      expect(figures?.median ?? 0).toBeLessThan(1.04 * quantile(misses[i], 0.5));
      expect(figures?.p90 ?? 0).toBeGreaterThan(0.96 * quantile(misses[i], 0.9));
      expect(figures?.p90 ?? 0).toBeLessThan(1.04 * quantile(misses[i], 0.9));
      expect(figures?.greatest ?? 0).toBeGreaterThan(0.9 * quantile(misses[i], 0.9973));
      expect(figures?.greatest ?? 0).toBeLessThan(1.1 * quantile(misses[i], 0.9973));
    });
  });

  it('takes the spread of the edges where that of the widths is not known', () => {
    const edgesOnly = {
      ...model,
      bands: model.bands.map((b) => ({ ...b, width_sd_mm: null, edge_sd_mm: 0.3 })),
    };
    const one = preview(edgesOnly, 'b3', 90);
    // Own edge of the ring's band: half of (e1 - e0) on either side, so 0.3 in all; half-normal median 0.6745.
    const own = one.match.crossings.findIndex((c) => c.edge === 0);
    expect(one.expected[own]?.median).toBeCloseTo(0.67449 * 0.3, 3);
    // Any other: its own straying and the ring's band's, on either side: 0.3 times the root of 3.
    expect(one.expected[own - 1]?.median).toBeCloseTo(0.67449 * 0.3 * Math.sqrt(3), 3);
  });

  it('says not known, never nought, where the model knows nothing of unevenness', () => {
    const silent = {
      ...model,
      bands: model.bands.map((b) => ({ ...b, width_sd_mm: null, edge_sd_mm: null })),
    };
    const one = preview(silent, 'b3', 45);
    expect(one.basis).toBeNull();
    expect(one.worst).toBeNull();
    expect(one.expected.every((figures) => figures === null)).toBe(true);
    expect(one.best).toBeNull();
  });
});

describe('laying, cutting and sewing', () => {
  const even = {
    ...tickingModel(),
    bands: tickingModel().bands.map((b) => ({ ...b, width_sd_mm: 0, edge_sd_mm: 0 })),
  };

  it('alone, on even cloth, is out by what was said of it: nine times in ten', () => {
    const { worst } = preview(even, 'b3', 45, { handlingMm: 2 });
    expect(worst?.cloth.p90).toBeCloseTo(0, 4);
    // The ninth-in-ten value of 4000 draws of a half-normal distribution is known to 1.3 %; allowed: three of that.
    expect(Math.abs((worst?.sewn.p90 ?? 0) / 2 - 1)).toBeLessThan(0.04);
  });

  it('adds nothing when it is nought, and 1.5 mm is common practice', () => {
    const one = preview(tickingModel(), 'b3', 45, { handlingMm: 0 });
    expect(one.worst?.sewn).toEqual(one.worst?.cloth);
    expect(DEFAULT_CHEVRON.handlingMm).toBe(1.5);
  });

  it('turns the same figures about for the opposite slip', () => {
    const there = preview(tickingModel(), 'b3', 45, { shiftMm: 2 }).worst?.cloth.median ?? 0;
    const back = preview(tickingModel(), 'b3', 45, { shiftMm: -2 }).worst?.cloth.median ?? 0;
    expect(Math.abs(there / back - 1)).toBeLessThan(0.03);
    expect(there).toBeGreaterThan(2 * Math.SQRT2);
  });
});

describe('a lay that the cloth does not allow', () => {
  it('expects nothing beside what is out, and offers no places', () => {
    for (const centre of ['b1', 'b2', 'b3']) {
      const one = preview(tickingModel(), centre, 45, { lay: 'same-way', anyway: true });
      expect(one.match.unmatched.length).toBeGreaterThan(0);
      expect(one.worst).toBeNull();
      expect(one.best).toBeNull();
      expect(one.noBest).toBe('forbidden');
    }
  });
});
