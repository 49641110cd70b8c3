import { describe, expect, it } from 'vitest';
import type { BandPixel } from '../../../src/core/stripes/band-pixels.js';
import { withoutForeignObjects } from '../../../src/core/stripes/foreign-objects.js';
import type { Segment } from '../../../src/core/stripes/segment.js';

const segments: Segment[] = Array.from({ length: 12 }, (_, s) => ({
  from: 20 * s,
  to: 20 * (s + 1),
  lab: [50, 0, 0],
  linear: [0.2, 0.2, 0.2],
}));

/** Every second column and row of the bands, their edges left out; odd where the figure says. */
function pixels(odd: (x: number, y: number) => boolean): BandPixel[] {
  const out: BandPixel[] = [];
  for (let x = 0; x < 240; x += 2) {
    if (x % 20 < 3 || x % 20 > 16) continue;
    for (let y = 0; y < 100; y += 2) {
      out.push({ key: 0, x, y, lab: [50, 0, 0], linear: [0.2, 0.2, 0.2], odd: odd(x, y) });
    }
  }
  return out;
}

const within = (x: number, y: number, cx: number, cy: number, r: number): boolean =>
  (x - cx) ** 2 + (y - cy) ** 2 < r * r;

describe('things that lie on the cloth', () => {
  it('are left out where they reach over several bands in one place', () => {
    const hand = (x: number, y: number) => within(x, y, 60, 30, 45);
    const all = pixels(hand);
    const kept = withoutForeignObjects(all, segments, 2, 2);
    expect(kept.some((p) => p.odd)).toBe(false);
    expect(kept).toHaveLength(all.filter((p) => !p.odd).length);
  });

  it('are told from figures on a band, and from large ones that come again', () => {
    const small = (x: number, y: number) => [10, 50, 90].some((cy) => within(x, y, 90, cy, 8));
    expect(withoutForeignObjects(pixels(small), segments, 2, 2)).toEqual(pixels(small));
    const allOver = (x: number, y: number) =>
      [50, 190].some((cx) =>
        [25, 75].some((cy) => within(x, y, cx, cy, 22) || (y === cy - 1 && Math.abs(x - cx) < 45)),
      );
    const large = pixels(allOver);
    expect(withoutForeignObjects(large, segments, 2, 2)).toHaveLength(large.length);
  });

  it('leave the rest of a print in place', () => {
    const both = (x: number, y: number) => within(x, y, 60, 30, 45) || within(x, y, 210, 80, 8);
    const kept = withoutForeignObjects(pixels(both), segments, 2, 2).filter((p) => p.odd);
    expect(kept.length).toBeGreaterThan(5);
    expect(kept.every((p) => p.x > 195)).toBe(true);
  });

  it('are told from two large figures alike, wholly in view', () => {
    const two = (x: number, y: number) => within(x, y, 60, 50, 40) || within(x, y, 180, 50, 40);
    expect(withoutForeignObjects(pixels(two), segments, 2, 2)).toEqual(pixels(two));
    const handToo = (x: number, y: number) => within(x, y, 60, 50, 40) || within(x, y, 180, 95, 40);
    expect(withoutForeignObjects(pixels(handToo), segments, 2, 2).some((p) => p.odd)).toBe(false);
  });

  it('are one where they cross a band of their own colour', () => {
    const skin: Segment['lab'] = [70, 15, 20];
    const own = segments.map((segment, s) => (s % 3 === 1 ? { ...segment, lab: skin } : segment));
    // Odd everywhere but on bands of its colour, from the rim inwards.
    const hand = (x: number, y: number) => y > 55 && x < 150 && Math.floor(x / 20) % 3 !== 1;
    const seen = pixels(hand).map((p) => (p.odd ? { ...p, lab: skin } : p));
    expect(withoutForeignObjects(seen, own, 2, 2).some((p) => p.odd)).toBe(false);
    // Wholly in view in a cloth without such bands they are figures of a print.
    const inView = seen.map((p) => (p.y > 80 ? { ...p, odd: false } : p));
    expect(withoutForeignObjects(inView, segments, 2, 2)).toEqual(inView);
  });

  it('are one where shadow parts them, a finger over two bands too; but not with figures of another colour', () => {
    const skin: Segment['lab'] = [60, 15, 20];
    const shaded: Segment['lab'] = [52, 13, 17];
    const hand = (x: number, y: number) => y > 40 && x < 95;
    const finger = (x: number, y: number) => y > 70 && x > 104 && x < 136;
    const figure = (x: number, y: number) => within(x, y, 200, 30, 18);
    const seen = pixels((x, y) => hand(x, y) || finger(x, y) || figure(x, y)).map((p) =>
      p.odd
        ? { ...p, lab: hand(p.x, p.y) ? skin : finger(p.x, p.y) ? shaded : ([30, -20, -10] as const) }
        : p,
    );
    const kept = withoutForeignObjects(seen, segments, 2, 2).filter((p) => p.odd);
    expect(kept.length).toBeGreaterThan(20);
    expect(kept.every((p) => figure(p.x, p.y))).toBe(true);
  });

  it('come in from beyond the picture: two pieces alike at its rim, over few bands', () => {
    const blades = (x: number, y: number) => y > 75 && ((x > 22 && x < 58) || (x > 102 && x < 138));
    expect(withoutForeignObjects(pixels(blades), segments, 2, 2).some((p) => p.odd)).toBe(false);
    const higher = (x: number, y: number) => blades(x, y + 40) && y < 60;
    expect(withoutForeignObjects(pixels(higher), segments, 2, 2)).toEqual(pixels(higher));
  });
});
