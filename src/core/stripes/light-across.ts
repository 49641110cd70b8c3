import type { RoughReading } from './stripe-reading.js';

/** Natural log of the light's gain across the stripes: slope * x + bend * (x^2 - 1/3), x from -1 to 1 over the columns. */
export interface LightAcross {
  readonly slope: number;
  readonly bend: number;
}

/**
 * What the light does across the stripes: bands of one place in the repeat have one dye, so what their brightness does from repeat
 * to repeat is light. Least squares on log luminance over all numbered bands, each about its own mean. None (0, 0) where
 * fewer than two repeats show it.
 *
 * @param columns Width of the straight picture.
 */
export function lightAcross(reading: RoughReading, columns: number): LightAcross {
  const groups = new Map<number, { x: number; y: number; w: number }[]>();
  reading.segments.forEach((s, i) => {
    const place = reading.places[i];
    const luminance = 0.2126 * s.linear[0] + 0.7152 * s.linear[1] + 0.0722 * s.linear[2];
    if (place === null || luminance < 0.01) return;
    const x = (s.from + s.to) / columns - 1;
    const list = groups.get(place.band) ?? [];
    list.push({ x, y: Math.log(luminance), w: Math.sqrt(s.to - s.from) });
    groups.set(place.band, list);
  });
  let aa = 1e-6;
  let ab = 0;
  let bb = 1e-6;
  let ay = 0;
  let by = 0;
  for (const list of groups.values()) {
    if (list.length < 2) continue;
    const total = list.reduce((s, p) => s + p.w, 0);
    const mean = (f: (p: { x: number; y: number }) => number) =>
      list.reduce((s, p) => s + p.w * f(p), 0) / total;
    const mx = mean((p) => p.x);
    const mq = mean((p) => p.x * p.x);
    const my = mean((p) => p.y);
    for (const { x, y, w } of list) {
      const a = x - mx;
      const b = x * x - mq;
      aa += w * a * a;
      ab += w * a * b;
      bb += w * b * b;
      ay += w * a * (y - my);
      by += w * b * (y - my);
    }
  }
  const det = aa * bb - ab * ab;
  if (!(det > 1e-9)) return { slope: aa > 1e-3 ? ay / aa : 0, bend: 0 };
  return { slope: (ay * bb - by * ab) / det, bend: (by * aa - ay * ab) / det };
}

export const acrossLogGain = ({ slope, bend }: LightAcross, x: number): number =>
  slope * x + bend * (x * x - 1 / 3);
