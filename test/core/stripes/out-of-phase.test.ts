import { describe, expect, it } from 'vitest';
import { withoutSlips } from '../../../src/core/stripes/out-of-phase.js';
import type { Segment } from '../../../src/core/stripes/segment.js';
import type { BandPlace } from '../../../src/core/stripes/stripe-reading.js';

const WIDTHS = [40, 25, 15, 20];

/** Four repeats of four bands, each repeat wider than the one before by `growth`. */
function laid(growth: number): { segments: Segment[]; places: BandPlace[] } {
  const segments: Segment[] = [];
  const places: BandPlace[] = [];
  let from = 7;
  for (let repeat = 0; repeat < 4; repeat++) {
    WIDTHS.forEach((width, band) => {
      const to = from + width * (1 + growth * repeat);
      segments.push({ from, to, lab: [50, 0, 0], linear: [0.2, 0.2, 0.2] } as Segment);
      places.push({ band, repeat });
      from = to;
    });
  }
  return { segments, places };
}

describe('withoutSlips', () => {
  it.each([0, 0.04, -0.04])(
    'leaves even repeats alone, and those that grow by %f as tilt has them',
    (growth) => {
      const { segments, places } = laid(growth);
      expect(withoutSlips(segments, places)).toEqual(places);
    },
  );

  it('takes the places from bands whose count slipped by one at the far end', () => {
    const { segments, places } = laid(0);
    // From the second band of the last repeat on each is called what the next one is.
    const slipped = places.map((place, s) => (s > 12 ? (places[s + 1] ?? null) : place));
    const told = withoutSlips(segments, slipped);
    told.forEach((place, s) => {
      if (place !== null) expect(place, `segment ${s}`).toEqual(places[s]);
    });
    expect(told.slice(0, 12)).toEqual(places.slice(0, 12));
    expect(told.slice(13, 15)).toEqual([null, null]);
  });
});
