import { describe, expect, it } from 'vitest';
import { quantile } from '../../../src/core/math/robust.js';
import type { BandModel } from '../../../src/core/model/band-model.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import type { SeamPreview } from '../../../src/core/seam/chevron-preview.js';
import { edgeVariances } from '../../../src/core/seam/expected-mismatch.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';
import { instancesBetween, tickingModel } from '../../support/seam/models.js';

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

/** Edges of `count` repeats, each standing off its regular place by chance of the stated spread. */
function strayingEdges(
  model: BandModel,
  count: number,
  sdOfEdge: (k: number) => number,
  seed: number,
): number[] {
  const random = seededRandom(seed);
  const n = model.bands.length;
  const repeat = model.repeat.across_mm as number;
  return Array.from({ length: count * n + 1 }, (_, k) => {
    const regular = Math.floor(k / n) * repeat + model.bands[k % n].start_mm;
    return regular + sdOfEdge(k % n) * random.gaussian();
  });
}

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
    const rounds = 20_000;
    // Two halves, every edge straying by itself, both set by the middle of the band at the ring.
    const misses = one.match.crossings.map(() => new Float64Array(rounds));
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
      one.match.crossings.forEach((c, i) => {
        misses[i][r] = Math.abs(right(c.edge) - left(c.edge)) / Math.sin((angle * Math.PI) / 180);
      });
    }
    one.expected.forEach((figures, i) => {
      // Standard error of a median of 20 000: 0.9 %; of a 90th percentile 0.9 %. Allowed: four of them.
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

describe('mismatch foretold from the repeats in view', () => {
  const still = tickingModel();
  const bare: BandModel = {
    ...still,
    bands: still.bands.map((b) => ({ ...b, width_sd_mm: null, edge_sd_mm: null })),
  };
  const edges = strayingEdges(bare, 6, () => 0.4, 8);
  const model: BandModel = { ...bare, instances: instancesBetween(bare, edges) };
  const n = bare.bands.length;

  it('compares every two repeats, edge by edge', () => {
    const one = preview(model, 'b3', 30, { seamMm: 80 });
    expect(one.basis).toBe('repeats');
    const middle = (k: number): number => (edges[k] + edges[k + 1]) / 2;
    // Only edges that lie in view for every repeat, so that no continuation is needed.
    for (const m of [0, 1]) {
      const index = one.match.crossings.findIndex((c) => c.edge === m);
      const misses: number[] = [];
      for (let i = 0; i < 6; i++) {
        for (let j = 0; j < 6; j++) {
          if (i === j) continue;
          const [a, b] = [i * n + 2, j * n + 2];
          misses.push(Math.abs(edges[a + m] - middle(a) - edges[b + m] + middle(b)) * 2);
        }
      }
      expect(one.expected[index]?.median).toBeCloseTo(quantile(misses, 0.5), 9);
      expect(one.expected[index]?.p90).toBeCloseTo(quantile(misses, 0.9), 9);
      expect(one.expected[index]?.greatest).toBeCloseTo(Math.max(...misses), 9);
    }
  });

  it('adds the wander of each edge along its own stripe', () => {
    const wandering = { ...model, instances: model.instances.map((one) => ({ ...one, width_sd_mm: 0.4 })) };
    const calm = preview(model, 'b3', 45);
    const restless = preview(wandering, 'b3', 45);
    expect(restless.worst?.p90 ?? 0).toBeGreaterThan((calm.worst?.p90 ?? 0) + 0.05);
  });

  it('finds the two places that meet best by trying all', () => {
    const one = preview(model, 'b3', 45, { seamMm: 100 });
    const sin = Math.sin(Math.PI / 4);
    const middle = (k: number): number => (edges[k] + edges[k + 1]) / 2;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < 6; i++) {
      for (let j = 0; j < 6; j++) {
        if (i === j) continue;
        const [a, b] = [i * n + 2, j * n + 2];
        const inView = (k: number, m: number): boolean => k + m >= 0 && k + m < edges.length;
        if (!one.match.crossings.every((c) => inView(a, c.edge) && inView(b, c.edge))) continue;
        const worst = Math.max(
          ...one.match.crossings.map(
            (c) => Math.abs(edges[b + c.edge] - middle(b) - edges[a + c.edge] + middle(a)) / sin,
          ),
        );
        least = Math.min(least, worst);
      }
    }
    expect(one.best?.continued).toBe(false);
    expect(one.best?.worstMm).toBeCloseTo(least, 9);
    expect(one.best?.left.repeat).not.toBe(one.best?.right.repeat);
  });

  it('continues by whole repeats where the seam is longer than the cloth, and says so', () => {
    const one = preview(model, 'b3', 30, { seamMm: 1500 });
    expect(one.best?.continued).toBe(true);
    expect(one.best?.crossings.length).toBeGreaterThan(80);
  });

  it('turns the same figures about for the opposite slip', () => {
    const there = preview(model, 'b3', 45, { shiftMm: 2 }).worst?.median ?? 0;
    const back = preview(model, 'b3', 45, { shiftMm: -2 }).worst?.median ?? 0;
    expect(there).toBeCloseTo(back, 9);
    expect(there).toBeGreaterThan(2);
  });
});
