import type { RoughReading } from './stripe-reading.js';

/**
 * The colour of most of a band's length in view, all instances together: one cut off by the picture's rim may show another. Index
 * into the palette; 0 where the band is not seen. `bandOf`: band of a segment, or null.
 */
export function ownColour(
  { segments, colours }: Pick<RoughReading, 'segments' | 'colours'>,
  bandOf: (segment: number) => number | null,
  band: number,
): number {
  const columns = new Map<number, number>();
  segments.forEach(({ from, to }, i) => {
    if (bandOf(i) === band) columns.set(colours[i], (columns.get(colours[i]) ?? 0) + to - from);
  });
  let most = 0;
  let own = 0;
  for (const [colour, length] of columns) {
    if (length > most) {
      most = length;
      own = colour;
    }
  }
  return own;
}
