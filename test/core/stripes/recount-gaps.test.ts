import { describe, expect, it } from 'vitest';
import { recountedPlaces } from '../../../src/core/stripes/recount-gaps.js';
import type { Segment } from '../../../src/core/stripes/segment.js';

const SEGMENT: Segment = { from: 0, to: 1, linear: [0.5, 0.5, 0.5], lab: [76, 0, 0] };
const PERIOD_MM = 12;
const OFFSETS_MM = [0, 5];

/** Two bands, 14 repeats of them; repeats 5 to 8 lie under a hand. `counted`: what the first count says of a true repeat. */
function hidden(counted: (repeat: number) => number, shiftMm = 0) {
  const segments: Segment[] = [];
  const places: ({ band: number; repeat: number } | null)[] = [];
  const starts: number[] = [];
  for (let repeat = 0; repeat < 14; repeat++) {
    for (let band = 0; band < 2; band++) {
      if (repeat === 5 && band === 0) {
        segments.push(SEGMENT);
        places.push(null);
        starts.push(Number.NaN);
      }
      if (repeat >= 5 && repeat < 9) continue;
      segments.push(SEGMENT);
      places.push({ band, repeat: counted(repeat) });
      starts.push(OFFSETS_MM[band] + PERIOD_MM * repeat + (repeat >= 9 ? shiftMm : 0));
    }
  }
  const edges = segments.slice(1).map((_, i) => ({ column: i + 1, left: i, right: i + 1 }));
  return { reading: { segments, edges, places }, edgeMm: Float64Array.from(starts.slice(1)) };
}

const repeatsOf = (places: readonly ({ readonly repeat: number } | null)[]): number[] =>
  places.flatMap((p) => (p ? [p.repeat] : []));

describe('repeats counted anew across a gap', () => {
  it.each([-2, -1, 0, 1, 3])('are right though the first count missed %d there', (missed) => {
    const { reading, edgeMm } = hidden((repeat) => (repeat >= 9 ? repeat - missed : repeat));
    const truth = hidden((repeat) => repeat).reading.places;
    const found = repeatsOf(recountedPlaces(reading, edgeMm, 2));
    // The count may begin anywhere.
    const first = found[0];
    expect(found.map((r) => r - first)).toEqual(repeatsOf(truth));
  });

  it('keep their count where the gap is no whole number of repeats', () => {
    const { reading, edgeMm } = hidden((repeat) => (repeat >= 9 ? repeat - 1 : repeat), 0.4 * PERIOD_MM);
    expect(recountedPlaces(reading, edgeMm, 2)).toEqual(reading.places);
  });
});
