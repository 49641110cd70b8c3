import { describe, expect, it } from 'vitest';
import { raster } from '../../../src/core/raster/raster.js';
import type { StraightCloth } from '../../../src/core/rectify/straight-cloth.js';
import { readStripes } from '../../../src/core/stripes/read-stripes.js';
import type { RoughReading } from '../../../src/core/stripes/stripe-reading.js';
import { noiseTile } from '../../support/photo-painter/noise-tile.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';
import {
  type PaintedStraight,
  paintStraight,
  type StraightScene,
} from '../../support/straight-cloth-painter.js';

const INDIGO = '#2a3a63';
const IVORY = '#ebe2cb';
const OCHRE = '#bd8738';
const MADDER = '#8c3a2c';

const TICKING: StraightScene = {
  bands: [
    { colour: INDIGO, width: 50 },
    { colour: IVORY, width: 17 },
    { colour: OCHRE, width: 11 },
    { colour: IVORY, width: 25 },
    { colour: INDIGO, width: 22 },
    { colour: IVORY, width: 60 },
  ],
  columns: 900,
  rows: 120,
  start: 23,
  seed: 4,
  dirt: { noise: 2, weave: 0.03 },
};

function reading({ cloth }: PaintedStraight, mixing: 'stripe' | 'check' = 'stripe'): RoughReading {
  const outcome = readStripes(cloth, mixing);
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value;
}

/** Each found edge against the painted one nearest to it; all painted edges well inside must be found. */
function worstEdge(found: RoughReading, painted: PaintedStraight): number {
  const columns = found.edges.map((e) => e.column);
  const width = painted.cloth.picture.width;
  const inside = painted.edges.filter((e) => e.column > 6 && e.column < width - 6);
  return Math.max(...inside.map((e) => Math.min(...columns.map((c) => Math.abs(c - e.column)))));
}

/** Band after band, numbers without a gap: k-th edge is k bands after the first. */
const isCountedOn = ({ places, bandsPerRepeat }: RoughReading): boolean => {
  const n = bandsPerRepeat ?? 1;
  const counts = places.map((p) => (p ? p.repeat * n + p.band : Number.NaN));
  return counts.every((c, i) => c === counts[0] + i);
};

describe('the repeat laid over the whole profile', () => {
  it.each([
    ['clean', {}],
    ['noisy', { noise: 8 }],
    ['blurred', { blur: 1.6, noise: 3 }],
    ['uneven', { unevenness: 0.04, ragged: 0.8, noise: 2 }],
    ['tilted', { stretch: 0.35, noise: 2 }],
    ['in falling light', { light: (x: number, y: number) => 0.5 + 0.3 * x + 0.2 * y, noise: 2 }],
    ['in a shadow', { light: (x: number) => 1 - 0.45 / (1 + ((x - 0.3) / 0.2) ** 4), noise: 2 }],
    ['woven coarsely', { weave: 0.12, noise: 2 }],
  ])('reads ticking %s: six bands, every edge, three colours', (_, dirt) => {
    const painted = paintStraight({ ...TICKING, dirt });
    const found = reading(painted);
    expect(found.bandsPerRepeat).toBe(6);
    expect(isCountedOn(found)).toBe(true);
    expect(worstEdge(found, painted)).toBeLessThan(1.2);
    expect(found.palette).toHaveLength(3);
    expect(Math.abs((found.repeatColumns ?? 0) / painted.repeatColumns - 1)).toBeLessThan(0.03);
  });

  it('finds lines of three columns beside wide bands, in dark and light (thread counts of a sett)', () => {
    const widths = [3, 4, 26, 26, 24, 3, 24, 26, 26, 4, 3, 4, 26, 26, 24, 5];
    const dyes = ['#6c9bbf', '#161616', '#1c5a38', '#161616', '#22306e', '#b4231f', '#22306e', '#161616'];
    const bands = widths.map((width, i) => ({ colour: dyes[i % dyes.length], width }));
    const painted = paintStraight({
      bands,
      columns: 700,
      rows: 200,
      start: 9,
      seed: 2,
      dirt: { noise: 2, blur: 0.5 },
    });
    const found = reading(painted);
    expect(found.bandsPerRepeat).toBe(16);
    expect(isCountedOn(found)).toBe(true);
    expect(worstEdge(found, painted)).toBeLessThan(1);
  });

  it.each([
    ['widths', [60, 25, 60, 29], [IVORY, INDIGO, IVORY, INDIGO]],
    ['colours', [60, 25, 60, 25], [IVORY, INDIGO, IVORY, '#41507a']],
  ])('does not fall for A B A C with B close to C in %s', (_, widths, colours) => {
    const bands = widths.map((width, i) => ({ colour: colours[i], width }));
    const found = reading(
      paintStraight({
        bands,
        columns: 1400,
        rows: 160,
        start: 11,
        seed: 9,
        dirt: { noise: 2, unevenness: 0.01 },
      }),
    );
    expect(found.bandsPerRepeat).toBe(4);
  });

  it.each([1, 2, 3, 4, 5])('makes no multiple of an uneven A B (seed %d)', (seed) => {
    const bands = [
      { colour: INDIGO, width: 22 },
      { colour: IVORY, width: 31 },
    ];
    const dirt = { unevenness: 0.04, noise: 3, light: (x: number) => 0.7 + 0.3 * Math.sin(3 * x) };
    expect(
      reading(paintStraight({ bands, columns: 1100, rows: 60, start: 5, seed, dirt })).bandsPerRepeat,
    ).toBe(2);
  });

  it('reads the mirrored cloth mirrored', () => {
    const painted = paintStraight(TICKING);
    const found = reading(painted);
    const back = reading({ ...painted, cloth: mirrored(painted.cloth) });
    const width = painted.cloth.picture.width;
    expect(back.bandsPerRepeat).toBe(found.bandsPerRepeat);
    expect(back.edges).toHaveLength(found.edges.length);
    back.edges.forEach((e, i) => {
      expect(width - e.column).toBeCloseTo(found.edges[found.edges.length - 1 - i].column, 0);
    });
    expect(back.repeatColumns).toBeCloseTo(found.repeatColumns ?? 0, 0);
  });

  it('moves edges and nothing else when the cloth is slid', () => {
    const dirt = { noise: 0, weave: 0 };
    const here = reading(paintStraight({ ...TICKING, start: 23, dirt }));
    const slid = reading(paintStraight({ ...TICKING, start: 23 + 40, dirt }));
    expect(slid.bandsPerRepeat).toBe(here.bandsPerRepeat);
    expect(slid.repeatColumns).toBeCloseTo(here.repeatColumns ?? 0, 1);
    const common = here.edges.map((e) => e.column + 40).filter((c) => c > 50 && c < 890);
    for (const c of common) {
      expect(Math.min(...slid.edges.map((e) => Math.abs(e.column - c)))).toBeLessThan(0.15);
    }
  });

  it('counts on past a ruler that hides a stretch along the stripes', () => {
    const hidden = (x: number) => x >= 380 && x < 470;
    const painted = paintStraight({ ...TICKING, dirt: { noise: 2, hidden } });
    const found = reading(painted);
    expect(found.bandsPerRepeat).toBe(6);
    found.edges.forEach(({ column, right }) => {
      expect(hidden(column)).toBe(false);
      const truth = painted.edges.reduce((p, q) =>
        Math.abs(q.column - column) < Math.abs(p.column - column) ? q : p,
      );
      const first = painted.edges.find((e) => Math.abs(e.column - found.edges[0].column) < 2);
      const place = found.places[right];
      const start = found.places[found.edges[0].right];
      const bandsOn =
        (place?.repeat ?? 0) * 6 + (place?.band ?? 0) - (start?.repeat ?? 0) * 6 - (start?.band ?? 0);
      expect(bandsOn).toBe(6 * (truth.repeat - (first?.repeat ?? 0)) + truth.band - (first?.band ?? 0));
    });
  });

  it('is not put out by a smudge that looks like a band', () => {
    const painted = paintStraight(TICKING);
    const { picture, cloth } = painted.cloth;
    for (let y = 0; y < picture.height; y++) {
      for (let x = 402; x < 412; x++) picture.data.set([190, 170, 60], 3 * (y * picture.width + x));
    }
    const found = reading({ ...painted, cloth: { ...painted.cloth, picture, cloth } });
    expect(found.bandsPerRepeat).toBe(6);
  });

  it('reads bands without a repeat as bands without a repeat', () => {
    const bands = [INDIGO, IVORY, OCHRE, MADDER, IVORY].map((colour, i) => ({ colour, width: 150 + 20 * i }));
    const found = reading(
      paintStraight({ bands, columns: 800, rows: 120, start: -30, seed: 1, dirt: { noise: 2 } }),
    );
    expect(found.bandsPerRepeat).toBeNull();
    expect(found.places.every((p) => p === null)).toBe(true);
    expect(found.segments).toHaveLength(5);
  });

  it('reads one direction of a check under the other', () => {
    const bands = TICKING.bands;
    const painted = paintStraight({
      ...TICKING,
      crossing: bands.map(({ colour, width }) => ({ colour, width: width / 4 })),
    });
    const found = reading(painted, 'check');
    expect(found.bandsPerRepeat).toBe(6);
    expect(worstEdge(found, painted)).toBeLessThan(1.2);
  });

  it('sees the ground under motifs that cover most of a band', () => {
    const motif = {
      colour: MADDER,
      at: 155,
      alongRows: 20,
      drop: 0.5,
      radiusColumns: 28,
      shape: 'disc',
    } as const;
    const painted = paintStraight({ ...TICKING, motif, rows: 300 });
    const found = reading(painted);
    expect(found.bandsPerRepeat).toBe(6);
    expect(worstEdge(found, painted)).toBeLessThan(1.5);
  });

  it.each(['plain', 'blotched', 'spotted'])('refuses %s cloth', (kind) => {
    const random = seededRandom(3);
    const tile = noiseTile(random);
    const shade = (x: number, y: number): number => {
      if (kind === 'blotched') return 140 + 25 * tile(x * 0.02, y * 0.08);
      const off = Math.hypot((x % 60) - 30, 4 * ((y % 15) - 7.5));
      return kind === 'spotted' && off < 12 ? 225 : 90;
    };
    const outcome = readStripes(
      pictureOf(700, 200, (x, y) => shade(x, y) + 2 * random.gaussian()),
      'stripe',
    );
    expect(outcome.ok ? null : outcome.refusal.reason).toBe('no-stripes');
  });
});

function pictureOf(width: number, height: number, level: (x: number, y: number) => number): StraightCloth {
  const data = new Uint8Array(3 * width * height);
  for (let i = 0; i < width * height; i++) {
    data.fill(Math.max(0, Math.min(255, level(i % width, Math.floor(i / width)))), 3 * i, 3 * i + 3);
  }
  return {
    picture: raster(width, height, 3, data),
    cloth: new Uint8Array(width * height).fill(1),
    uFromMm: 0,
    mmPerColumn: 0.2,
    vFromMm: 0,
    mmPerRow: 0.8,
  };
}

function mirrored(cloth: StraightCloth): StraightCloth {
  const { width, height, data } = cloth.picture;
  const turned = new Uint8Array(data.length);
  const seen = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const from = y * width + x;
      const to = y * width + width - 1 - x;
      seen[to] = cloth.cloth[from];
      turned.set(data.subarray(3 * from, 3 * from + 3), 3 * to);
    }
  }
  return { ...cloth, picture: raster(width, height, 3, turned), cloth: seen };
}
