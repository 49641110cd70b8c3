import { halfTurn } from '../math/wrap.js';
import type { Raster } from '../raster/raster.js';
import type { TickRow } from './tick-rows.js';
import type { TickLine } from './tick-strip.js';

/** Rough spacing of the row's members: the lower quartile of the gaps, since a missed tick doubles a gap. */
export function pitchOfRow(row: TickRow): number {
  const s = row.members.map((m) => m.x * row.alongX + m.y * row.alongY).sort((a, b) => a - b);
  const gaps = s
    .slice(1)
    .map((v, i) => v - s[i])
    .filter((g) => g > 1)
    .sort((a, b) => a - b);
  return gaps[Math.floor(gaps.length * 0.3)] ?? 4;
}

/** The level line of a row found in a copy of the picture, `shrink` picture px to one of its own. */
export function lineFromRow(row: TickRow, shrink: number, luma: Raster<Uint8Array>): TickLine {
  const { alongX, alongY } = row;
  const x = row.x * shrink;
  const y = row.y * shrink;
  const lengths = row.members.map((m) => m.lengthPx * shrink).sort((a, b) => a - b);
  const short = lengths[Math.floor(0.2 * lengths.length)];
  const { tickAngle, tickTurn } = tickDirection(row, shrink);
  const [fromPx, toPx] = insideFrame(x, y, alongX, alongY, luma, 3);
  return {
    x,
    y,
    alongX,
    alongY,
    tickAngle,
    tickTurn,
    bend: levelBend(row) / shrink,
    fromPx,
    toPx,
    seen: { fromPx: Math.max(fromPx, row.fromPx * shrink), toPx: Math.min(toPx, row.toPx * shrink) },
    depthFrom: 0.15 * short,
    depthTo: 0.75 * short,
  };
}

/** The ticks' direction as a + b s, by a trimmed line fit: under perspective ticks fan out a little. */
function tickDirection(row: TickRow, shrink: number): { tickAngle: number; tickTurn: number } {
  const base = Math.atan2(row.tickY, row.tickX);
  const longer = [...row.members]
    .sort((a, b) => b.lengthPx - a.lengthPx)
    .slice(0, Math.max(8, row.members.length >> 1));
  const turned = longer.map((m) => {
    const angle = Math.atan2(m.dirY, m.dirX) - base;
    return {
      s: ((m.x - row.x) * row.alongX + (m.y - row.y) * row.alongY) * shrink,
      angle: halfTurn(angle),
      weight: m.lengthPx ** 2,
    };
  });
  let kept = turned;
  let a = 0;
  let b = 0;
  for (let round = 0; round < 3; round++) {
    const w = kept.reduce((t, m) => t + m.weight, 0);
    const sMean = kept.reduce((t, m) => t + m.weight * m.s, 0) / w;
    const aMean = kept.reduce((t, m) => t + m.weight * m.angle, 0) / w;
    const sss = kept.reduce((t, m) => t + m.weight * (m.s - sMean) ** 2, 0);
    const ssa = kept.reduce((t, m) => t + m.weight * (m.s - sMean) * (m.angle - aMean), 0);
    b = sss > 0 ? ssa / sss : 0;
    a = aMean - b * sMean;
    const sizes = kept.map((m) => Math.abs(m.angle - a - b * m.s)).sort((p, q) => p - q);
    const limit = 3 * sizes[sizes.length >> 1] + 1e-6;
    const next = kept.filter((m) => Math.abs(m.angle - a - b * m.s) <= limit);
    if (next.length < 6) break;
    kept = next;
  }
  return { tickAngle: base + a, tickTurn: b };
}

/** Bend of the level line: coefficient of s^2 across it, from the members' level ends, per px of the row's picture. */
function levelBend(row: TickRow): number {
  if (row.toPx - row.fromPx < 200 || row.members.length < 30) return 0;
  const points = row.members.map((m) => {
    const sign = m.dirX * row.tickX + m.dirY * row.tickY > 0 ? -0.5 : 0.5;
    const x = m.x + sign * m.lengthPx * m.dirX - row.x;
    const y = m.y + sign * m.lengthPx * m.dirY - row.y;
    return { s: x * row.alongX + y * row.alongY, t: -x * row.alongY + y * row.alongX };
  });
  const third = (row.toPx - row.fromPx) / 3;
  const medianIn = (from: number) => {
    const t = points
      .filter((p) => p.s >= from && p.s < from + third)
      .map((p) => p.t)
      .sort((a, b) => a - b);
    return t.length > 5 ? t[t.length >> 1] : Number.NaN;
  };
  const t0 = medianIn(row.fromPx);
  const t1 = medianIn(row.fromPx + third);
  const t2 = medianIn(row.fromPx + 2 * third);
  const bend = (t0 - 2 * t1 + t2) / (2 * third * third);
  return Number.isFinite(bend) ? bend : 0;
}

/** The stretch of s for which the line stays inside the picture by a margin. */
function insideFrame(
  x: number,
  y: number,
  dx: number,
  dy: number,
  { width, height }: Raster,
  margin: number,
): [number, number] {
  let from = -Infinity;
  let to = Infinity;
  for (const [p, d, size] of [
    [x, dx, width],
    [y, dy, height],
  ]) {
    if (Math.abs(d) < 1e-9) continue;
    const a = (margin - p) / d;
    const b = (size - margin - p) / d;
    from = Math.max(from, Math.min(a, b));
    to = Math.min(to, Math.max(a, b));
  }
  return [from, Math.max(from, to)];
}
