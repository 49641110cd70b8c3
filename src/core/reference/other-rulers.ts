import type { Point } from '../math/matrix3.js';
import { isInsidePolygon } from '../raster/fill-polygon.js';
import { lumaOf, partialLuma } from '../raster/luminance.js';
import type { Raster } from '../raster/raster.js';
import { combAt } from './comb-fit.js';
import { lineFromRow, pitchOfRow } from './line-from-row.js';
import { readTicks, type TickReading, type UnreadComb } from './read-ticks.js';
import type { Reference } from './reference.js';
import { rulerOutline } from './ruler-outline.js';
import { findThinLines, type ThinLine } from './thin-lines.js';
import { PITCHES_MM } from './tick-hierarchy.js';
import { findTickRows } from './tick-rows.js';
import { wholeRuler } from './whole-ruler.js';

/** Rows of level lines that are looked at, dark and light each, and rulers that are hidden. */
const ROWS = 5;
const RULERS = 3;
/** Marks whose lengths tell nothing are a ruler's where they are so many, as even, and at a rule's own spacing. */
const FEWEST_MARKS = 20;
const LEAST_PRESENCE = 0.75;
const MOST_RMS = 0.06;
const SPACING = 0.05;

/**
 * Outlines of what lies on the cloth and bears a rule's marks besides the `first` ruler: its long edges would pass for stripes. As the
 * scale is known, marks at a rule's spacing tell one, even where their lengths do not.
 *
 * @param half The picture at half its size.
 * @returns Polygons of four corners, picture px.
 */
export function otherRulers(
  picture: Raster<Uint8Array>,
  half: Raster<Uint8Array>,
  first: Reference,
): (readonly Point[])[] {
  const { pxPerMm } = first;
  const known: (readonly Point[])[] = first.outline ? [first.outline] : [];
  const part = partialLuma(picture);
  const lines = findThinLines(lumaOf(half));
  let rulers = 0;
  for (const polarity of ['dark', 'light'] as const) {
    const outside = (line: ThinLine): boolean =>
      !known.some((outline) => isInsidePolygon([2 * line.x, 2 * line.y], outline));
    const free = lines[polarity].filter(outside);
    for (const row of findTickRows(free, ROWS)) {
      if (rulers === RULERS) return known.slice(first.outline ? 1 : 0);
      if (row.members.filter(outside).length < row.members.length / 2) continue;
      const pitch = 2 * pitchOfRow(row);
      const unread: UnreadComb[] = [];
      const line = lineFromRow(row, 2, part.luma);
      const sign = polarity === 'dark' ? 1 : -1;
      const reading = readTicks(part, line, pitch, sign, 'auto', unread);
      const bare = reading ? null : unread.map((comb) => asRuler(comb, pxPerMm)).find((r) => r !== null);
      // Without lengths nothing says on which side of its level line a rule lies.
      const readings = reading ? [reading] : bare ? [bare, turnedOver(bare)] : [];
      if (readings.length === 0) continue;
      rulers++;
      for (const r of readings) {
        const outline = rulerOutline(picture, r);
        known.push(r.grid.length > 0 ? outline : wholeRuler(half, 2, outline, pxPerMm));
      }
    }
  }
  return known.slice(first.outline ? 1 : 0);
}

/** The same marks as those of a rule on the other side of its level line. */
function turnedOver(reading: TickReading): TickReading {
  const { line, ticks } = reading;
  return {
    ...reading,
    line: { ...line, tickAngle: line.tickAngle + Math.PI },
    ticks: ticks.map((tick) => ({ ...tick, from: 0, to: 0 })),
  };
}

/** A comb as a ruler's, where its marks stand at a spacing that rules have; else null. */
function asRuler({ line, fit, pitch }: UnreadComb, pxPerMm: number): TickReading | null {
  const { marks, comb, presence, rms } = fit;
  if (marks.length < FEWEST_MARKS || presence < LEAST_PRESENCE || rms > MOST_RMS * pitch) return null;
  const pitchMm = PITCHES_MM.find((mm) => Math.abs(pitch / pxPerMm / mm - 1) < SPACING);
  if (pitchMm === undefined) return null;
  const { depthFrom, depthTo } = line;
  return {
    line,
    comb,
    fit,
    hierarchy: {
      unit: 'mm',
      pitchMm,
      phase: 0,
      period: 1,
      rankOf: () => 0,
      explained: 0,
      lead: 0,
    },
    ticks: marks.map(({ k }) => ({ k, s: combAt(comb, k), from: depthFrom, to: depthTo })),
    followed: [],
    levelSdPx: Infinity,
    grid: [],
    score: 0,
  };
}
