import { describe, expect, it } from 'vitest';
import type { BandPixel } from '../../../src/core/stripes/band-pixels.js';
import { withoutLocalOddities } from '../../../src/core/stripes/spread-of-print.js';

const SIZE = 300;

/** Two bands by turns, 30 px wide, sampled every 3 px; odd where told for their key. */
function pixels(isOdd: (key: number, x: number, y: number) => boolean): BandPixel[] {
  const out: BandPixel[] = [];
  for (let x = 0; x < SIZE; x += 3) {
    const key = Math.floor(x / 30) % 2;
    for (let y = 0; y < SIZE; y += 3) {
      out.push({ key, x, y, lab: [50, 0, 0], linear: [0.2, 0.2, 0.2], odd: isOdd(key, x, y) });
    }
  }
  return out;
}

const kept = (all: readonly BandPixel[]) => withoutLocalOddities(all, 2, SIZE, SIZE);
const within = (x: number, y: number, cx: number, cy: number, r: number): boolean =>
  (x - cx) ** 2 + (y - cy) ** 2 < r * r;

describe('what is odd on a band', () => {
  it('is print where it comes again over the cloth, however little of it there is', () => {
    const dots = pixels((_, x, y) => within(x % 60, y % 75, 15, 30, 5));
    expect(kept(dots)).toEqual(dots);
  });

  it('is none where a corner holds it all: only the odd ones go', () => {
    const all = pixels((_, x, y) => x + y < 110);
    expect(kept(all)).toEqual(all.filter(({ odd }) => !odd));
  });

  it('is looked at band by band: a print on one stays, a table beside the other goes', () => {
    const all = pixels((key, x, y) => (key === 0 ? within(x % 60, y % 75, 15, 30, 6) : y > 270 && x < 140));
    expect(kept(all)).toEqual(all.filter(({ key, odd }) => key === 0 || !odd));
  });

  it.each([
    [4, false],
    [5, true],
  ])(
    '%i of nine parts filled alike are print: %s, for so many are what the ratio tells',
    (parts, isPrint) => {
      // The participation ratio of n equal shares among nine is n / 9; the limit lies between 4 and 5.
      const all = pixels((_, x, y) => 3 * Math.floor(y / 100) + Math.floor(x / 100) < parts && x % 4 === 0);
      expect(kept(all).length === all.length).toBe(isPrint);
    },
  );

  it('is left alone in a view of too few parts to tell', () => {
    const strip = pixels((_, x, y) => x < 90 && y < 60).filter(({ x }) => x < 90);
    expect(withoutLocalOddities(strip, 2, SIZE, SIZE)).toEqual(strip);
  });
});
