import type { Raster } from '../raster/raster.js';
import { combPitchAt } from './comb-fit.js';
import type { LineChain } from './line-chains.js';
import type { TickReading } from './read-ticks.js';
import { pointOnTick } from './tick-strip.js';

/**
 * Outline of the ruler's body as four corners in picture px, in order round it.
 *
 * Seen from the ticks outwards, the body ends at the first step that runs along most of its length: at every distance
 * the colour a little further out is compared with that a little further in, and the median over many places along the
 * rule is taken, which numerals, ticks and crossing stripes do not move. A thin line is no step, so the grid of a
 * clear ruler is passed over. Where no step shows, `widestMm` bounds the body.
 */
export function rulerOutline(
  picture: Raster<Uint8Array>,
  reading: TickReading,
  widestMm = 70,
): [number, number][] {
  const { ticks, comb, hierarchy, line } = reading;
  const first = ticks[0];
  const last = ticks[ticks.length - 1];
  const middle = ticks[ticks.length >> 1];
  const pxPerMm = Math.abs(combPitchAt(comb, middle.k)) / hierarchy.pitchMm;
  const gridEnds = reading.grid.flatMap((g) => [g.fromPx, g.toPx].map((d) => onLine(reading, g, d)));
  const gridDepths = gridEnds.map((e) => e.depth);
  const sFirst = Math.min(first.s, ...gridEnds.map((e) => e.s));
  const sLast = Math.max(last.s, ...gridEnds.map((e) => e.s));
  const longest = Math.max(...ticks.map((t) => t.to), ...gridDepths);
  const highest = Math.min(...ticks.map((t) => t.from), ...gridDepths);
  const clear = reading.grid.length > 0;
  const places = 160;
  const sOf = (i: number) => first.s + ((last.s - first.s) * (i + 0.5)) / places;
  const across = (t: number) => (i: number) => pointOnTick(line, sOf(i), t);
  const furthest = longest + (clear ? 16 : widestMm) * pxPerMm;
  const inner = outerStep(picture, (t) => across(t), longest, furthest, pxPerMm, places);
  // Behind the level line the body may end at once, or (ticks set in from the edge) some mm on.
  const outer = outerStep(
    picture,
    (t) => across(-t),
    Math.max(0, -highest - 0.5 * pxPerMm),
    Math.max(0, -highest) + 16 * pxPerMm,
    pxPerMm,
    places,
  );
  const tTop = inner ?? longest + (clear ? 10 : 0.3 * widestMm) * pxPerMm;
  const tLow = -(outer ?? (clear ? 10 * pxPerMm - highest : 3 * pxPerMm));
  const along = (s: number) => (i: number) => {
    const t = tLow + ((tTop - tLow) * (i + 0.5)) / places;
    return pointOnTick(line, s, t);
  };
  const before = outerStep(picture, (d) => along(sFirst - d), 0.7 * pxPerMm, 30 * pxPerMm, pxPerMm, places);
  const after = outerStep(picture, (d) => along(sLast + d), 0.7 * pxPerMm, 30 * pxPerMm, pxPerMm, places);
  const sFrom = sFirst - (before ?? 30 * pxPerMm);
  const sTo = sLast + (after ?? 30 * pxPerMm);
  return [
    pointOnTick(line, sFrom, tLow),
    pointOnTick(line, sTo, tLow),
    pointOnTick(line, sTo, tTop),
    pointOnTick(line, sFrom, tTop),
  ];
}

/** A point of a grid line as distance along the level line and depth along the ticks. */
function onLine({ line }: TickReading, grid: LineChain, d: number): { s: number; depth: number } {
  const x = grid.x + d * grid.alongX - line.x;
  const y = grid.y + d * grid.alongY - line.y;
  const tx = Math.cos(line.tickAngle);
  const ty = Math.sin(line.tickAngle);
  const turn = line.alongX * ty - line.alongY * tx;
  return { s: (x * ty - y * tx) / turn, depth: (line.alongX * y - line.alongY * x) / turn };
}

/** Distance of the first marked step between `from` and `to`, px, or null. */
function outerStep(
  picture: Raster<Uint8Array>,
  rowAt: (d: number) => (i: number) => [number, number],
  from: number,
  to: number,
  pxPerMm: number,
  places: number,
): number | null {
  const gap = Math.max(1.5, 0.35 * pxPerMm);
  const stepPx = Math.max(1, 0.2 * pxPerMm);
  const count = Math.floor((to - from) / stepPx);
  const responses: number[] = [];
  for (let n = 0; n <= count; n++) {
    responses.push(medianStep(picture, rowAt, from + n * stepPx, gap, places));
  }
  const sorted = responses.filter((v) => v >= 0).sort((a, b) => a - b);
  if (sorted.length < 5) return null;
  const floor = sorted[Math.floor(0.3 * sorted.length)];
  const bestAbove = (enough: number): number | null => firstStep(responses, enough, (2 * pxPerMm) / stepPx);
  // Wood grain and brushed metal have faint steps of their own: a clear one is looked for first.
  const n = bestAbove(Math.max(24, 3 * floor)) ?? bestAbove(Math.max(6, 3 * floor));
  return n === null ? null : from + n * stepPx;
}

/** Index of the first local maximum of at least `enough`, or of a stronger one close after it. */
function firstStep(responses: readonly number[], enough: number, close: number): number | null {
  for (let n = 1; n < responses.length - 1; n++) {
    if (responses[n] >= enough && responses[n] >= responses[n - 1] && responses[n] >= responses[n + 1]) {
      // The strongest within the next two mm: a bevel or a shadow gives a first, smaller step.
      let best = n;
      for (let m = n; m < Math.min(responses.length, n + Math.ceil(close)); m++) {
        if (responses[m] > responses[best]) best = m;
      }
      return best;
    }
  }
  return null;
}

/** Median over the places of the largest channel difference across the step; -1 when most places lie outside. */
function medianStep(
  { width, height, channels, data }: Raster<Uint8Array>,
  rowAt: (d: number) => (i: number) => [number, number],
  d: number,
  gap: number,
  places: number,
): number {
  const steps: number[] = [];
  const rows = [rowAt(d + gap), rowAt(d + 2 * gap), rowAt(d - gap), rowAt(d - 2 * gap)];
  for (let i = 0; i < places; i++) {
    const sums = [0, 0, 0];
    let inside = true;
    for (let r = 0; r < 4; r++) {
      const [x, y] = rows[r](i);
      if (x < 1 || y < 1 || x > width - 1 || y > height - 1) {
        inside = false;
        break;
      }
      const j = (Math.floor(y) * width + Math.floor(x)) * channels;
      const sign = r < 2 ? 1 : -1;
      for (let c = 0; c < 3; c++) sums[c] += sign * data[j + c];
    }
    if (inside) steps.push(Math.max(Math.abs(sums[0]), Math.abs(sums[1]), Math.abs(sums[2])) / 2);
  }
  if (steps.length < places * 0.2) return -1;
  steps.sort((a, b) => a - b);
  return steps[steps.length >> 1];
}
