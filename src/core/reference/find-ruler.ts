import { type Outcome, refuse, succeed } from '../base/outcome.js';
import { halve } from '../raster/halve.js';
import { fillLumaWhole, type PartialLuma } from '../raster/luminance.js';
import type { Raster } from '../raster/raster.js';
import { combNumberAt, combPitchAt } from './comb-fit.js';
import { findFaintRuler } from './find-faint-ruler.js';
import { gridSpacing } from './grid-spacing.js';
import { chainLines, type LineChain } from './line-chains.js';
import { lineFromRow, pitchOfRow } from './line-from-row.js';
import { readBetween, readTicks, type TickReading, type UnreadComb } from './read-ticks.js';
import { findThinLines, type ThinLine } from './thin-lines.js';
import { readHierarchy } from './tick-hierarchy.js';
import { findTickRows } from './tick-rows.js';
import type { TickLine } from './tick-strip.js';

/**
 * Copies of the picture in which rows of ticks are sought, the likeliest first, and how far from a tick's middle the ground is looked for:
 * ticks 3 to 5 px apart have none further off than one px of the half-size copy, which has half the noise of the whole. `rows`: so many
 * are read at most, dark and light each.
 */
const LOOKS = [
  { shrink: 2, reach: 2, rows: 8 },
  { shrink: 2, reach: 1, rows: 5 },
  { shrink: 1, reach: 2, rows: 5 },
  { shrink: 4, reach: 2, rows: 5 },
] as const;

/**
 * Finds a ruler unaided in a picture and reads its ticks. `half`: luma of the picture at half its size.
 *
 * Rows of level ticks are sought on a half-size copy first (fast, and ticks a few px wide stand out), then at full
 * and quarter size, dark ticks before light ones; every candidate is read at full resolution and must show a
 * unit's hierarchy of lengths. The reading with the most ticks wins.
 *
 * @param looks 'first': the half-size copy alone, a small part of the time that a picture without a ruler takes; enough for clear marks.
 */
export function findRuler(
  part: PartialLuma,
  half: Raster<Uint8Array>,
  unit: 'auto' | 'mm' | 'inch' = 'auto',
  looks: 'all' | 'first' = 'all',
): Outcome<TickReading> {
  const { luma } = part;
  const halfLines = findThinLines(half);
  const unread: UnreadComb[] = [];
  const tried: { readonly line: TickLine; readonly sign: 1 | -1 }[] = [];
  for (const { shrink, reach, rows } of looks === 'all' ? LOOKS : LOOKS.slice(0, 1)) {
    if (shrink === 1) fillLumaWhole(part);
    const level = shrink === 2 ? half : shrink === 1 ? luma : halve(half);
    const all = shrink === 2 && reach === 2 ? halfLines : findThinLines(level, reach);
    for (const polarity of ['dark', 'light'] as const) {
      const lines = all[polarity];
      const sign = polarity === 'dark' ? 1 : -1;
      const readings: TickReading[] = [];
      let read = 0;
      for (const row of findTickRows(lines, 14)) {
        const pitch = pitchOfRow(row);
        // Fine stripes end level at the frame; no tick is that long for its spacing.
        if (row.lengthPx > 20 * pitch) continue;
        const line = lineFromRow(row, shrink, luma);
        if (seenBefore(line, sign, tried) || likeFailed(line, pitch * shrink, unread)) continue;
        tried.push({ line, sign });
        const reading = readTicks(part, line, pitch * shrink, sign, unit, unread);
        if (reading) readings.push(reading);
        // Rows come by falling length: once one reads well, the shorter ones have nothing better.
        if (reading && convincing(reading) && reading.ticks.length >= row.members.length / 2) break;
        if (++read === rows) break;
      }
      if (readings.length === 0 && reach === 2 && shrink === 2) {
        for (const chain of chainLines(lines, 12)) {
          const reading = readTicks(part, lineFromChain(enlarged(chain, shrink)), 10, sign, unit);
          if (reading) readings.push(reading);
        }
      }
      const sure = surest(readings, halfLines[polarity], unit);
      if (sure !== null) return succeed(sure);
    }
  }
  if (looks === 'first') return noRuler();
  for (const comb of distinct(unread)) {
    const reading = readBetween(part, comb, unit);
    const sure = surest(reading ? [reading] : [], halfLines[comb.sign === 1 ? 'dark' : 'light'], unit);
    if (sure !== null) return succeed(sure);
  }
  fillLumaWhole(part);
  const faint = findFaintRuler(part.picture, luma, unit);
  if (faint !== null) return succeed(faint);
  return noRuler();
}

const noRuler = (): Outcome<never> =>
  refuse(
    'no-scale',
    'No ruler found',
    'lay one flat on the cloth with its marks in view, or give two points a known length apart',
    ['points'],
  );

const sineBetween = (a: TickLine, b: TickLine): number => Math.abs(a.alongX * b.alongY - a.alongY * b.alongX);

/** The same level line, found again in another copy of the picture. */
function seenBefore(
  line: TickLine,
  sign: 1 | -1,
  tried: readonly { readonly line: TickLine; readonly sign: 1 | -1 }[],
): boolean {
  return tried.some((t) => {
    const across = -(line.x - t.line.x) * t.line.alongY + (line.y - t.line.y) * t.line.alongX;
    return t.sign === sign && Math.abs(across) < 1.2 && sineBetween(line, t.line) < 0.004;
  });
}

/** A pattern of the cloth has many rows of one spacing and direction: three of them that are no ruler's are enough. */
function likeFailed(line: TickLine, pitchPx: number, unread: readonly UnreadComb[]): boolean {
  const alike = unread.filter((u) => {
    const ratio = u.pitch / pitchPx;
    const times = Math.min(Math.abs(ratio - 1), Math.abs(ratio - 2), Math.abs(2 * ratio - 1));
    return times < 0.06 && sineBetween(line, u.line) < 0.03;
  });
  return new Set(alike.map((u) => `${u.line.x} ${u.line.y}`)).size >= 3;
}

/** The first of the three best readings that is sure, by its lengths or by its grid. */
function surest(
  readings: readonly TickReading[],
  halfLines: readonly ThinLine[],
  unit: 'auto' | 'mm' | 'inch',
): TickReading | null {
  const ordered = [...readings].sort((a, b) => b.score - a.score);
  for (const best of ordered.slice(0, 3)) {
    const grid = gridAround(best, halfLines, 2);
    const byGrid = grid.length > 0 ? readByGrid({ ...best, grid }, unit) : 'no grid';
    if (byGrid === 'no grid' && convincing(best)) return { ...best, grid };
    if (byGrid !== 'no grid' && byGrid !== null) return byGrid;
  }
  return null;
}

/** The best few combs that may be long marks alone: exact and without gaps; of those with one spacing and direction, the first. */
function distinct(combs: readonly UnreadComb[]): UnreadComb[] {
  const kept: UnreadComb[] = [];
  for (const comb of combs) {
    const { fit, pitch, line } = comb;
    if (pitch < 8 || fit.rms > 0.03 * pitch || fit.presence < 0.7) continue;
    const alike = (c: UnreadComb): boolean =>
      Math.abs(c.pitch / pitch - 1) < 0.05 && sineBetween(c.line, line) < 0.05;
    if (!kept.some(alike)) kept.push(comb);
    if (kept.length === 4) break;
  }
  return kept;
}

/**
 * Sure enough that this is a ruler and which. A short stretch of ticks fits some hierarchy at some phase by chance more easily: where
 * its lengths are not explained the better for it, the lead over other readings must be.
 */
function convincing({ ticks, hierarchy, fit }: TickReading): boolean {
  const explained = 0.7 + 0.27 * Math.min(1, 60 / ticks.length);
  const lead = hierarchy.explained >= explained ? 7 : 10;
  return ticks.length >= 18 && hierarchy.lead > lead && fit.presence > 0.6;
}

/**
 * The reading with its unit taken from the grid: so many ticks to a line. 'no grid' when its lines are too few to tell; null when they
 * contradict the ticks.
 */
function readByGrid(reading: TickReading, unit: 'auto' | 'mm' | 'inch'): TickReading | 'no grid' | null {
  const { line, comb, ticks, grid } = reading;
  const numbers = grid
    .filter((g) => Math.abs(g.alongX * line.alongY - g.alongY * line.alongX) > 0.9)
    .map((g) => combNumberAt(comb, meeting(line, g)))
    .sort((a, b) => a - b);
  const spacing = gridSpacing(numbers);
  if (spacing === null) return 'no grid';
  const lengths = ticks.map((t) => ({ k: t.k, lengthPx: t.to - t.from }));
  const middle = ticks[ticks.length >> 1].k;
  const hierarchy = readHierarchy(lengths, {
    only: unit,
    pitchPx: Math.abs(combPitchAt(comb, middle)),
    gridTicks: spacing,
  });
  return hierarchy === null ? null : { ...reading, hierarchy };
}

/** Where a line of the grid meets the level line, px along it. */
function meeting(line: TickLine, grid: LineChain): number {
  const x = grid.x - line.x;
  const y = grid.y - line.y;
  const turn = line.alongX * grid.alongY - line.alongY * grid.alongX;
  return (x * grid.alongY - y * grid.alongX) / turn;
}

function enlarged(chain: LineChain, by: number): LineChain {
  const { x, y, alongX, alongY, fromPx, toPx } = chain;
  return { x: x * by, y: y * by, alongX, alongY, fromPx: fromPx * by, toPx: toPx * by };
}

/**
 * Lines of a printed grid about the level line: parallel or square to it within 4 degrees and touching the rule.
 * Both families must be there, or fine stripes beside a plain rule would pass for its grid.
 */
function gridAround(reading: TickReading, thin: readonly ThinLine[], shrink: number): LineChain[] {
  const { line, ticks } = reading;
  const length = ticks[ticks.length - 1].s - ticks[0].s;
  // Chains are dear, and few rules have a grid.
  const long = thin.filter((l) => l.lengthPx * shrink > 0.03 * length);
  const turned = long.map((l) => Math.abs(l.dirX * line.alongY - l.dirY * line.alongX));
  if (turned.filter((t) => t > 0.99).length < 4 || turned.filter((t) => t < 0.08).length < 2) return [];
  const lines = chainLines(thin, 60)
    .map((c) => enlarged(c, shrink))
    .filter((c) => c.toPx - c.fromPx > 0.12 * length && c.toPx - c.fromPx < 1.3 * length);
  const cross = (c: LineChain) => Math.abs(c.alongX * line.alongY - c.alongY * line.alongX);
  const square = lines.filter((c) => {
    if (cross(c) < 0.997) return false;
    const ends = [c.fromPx, c.toPx].map((d) => {
      const x = c.x + d * c.alongX - line.x;
      const y = c.y + d * c.alongY - line.y;
      return { s: x * line.alongX + y * line.alongY, t: Math.abs(-x * line.alongY + y * line.alongX) };
    });
    const onRule = ends.every((e) => e.s > ticks[0].s - 40 && e.s < ticks[ticks.length - 1].s + 40);
    return onRule && Math.min(ends[0].t, ends[1].t) < 0.15 * length;
  });
  if (square.length < 4) return [];
  const reach = Math.max(...square.map((c) => c.toPx - c.fromPx)) * 1.05;
  const parallel = lines.filter((c) => {
    const away = Math.abs(-(c.x - line.x) * line.alongY + (c.y - line.y) * line.alongX);
    return cross(c) < 0.07 && away < reach;
  });
  return parallel.length >= 2 ? [...square, ...parallel] : [];
}

function lineFromChain(chain: LineChain): TickLine {
  const { alongX, alongY, fromPx, toPx } = chain;
  return {
    x: chain.x,
    y: chain.y,
    alongX,
    alongY,
    tickAngle: Math.atan2(alongX, -alongY),
    tickTurn: 0,
    bend: 0,
    fromPx,
    toPx,
    seen: { fromPx, toPx },
    depthFrom: -5,
    depthTo: 5,
  };
}
