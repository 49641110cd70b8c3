import type { RulerClass } from '../base/request.js';
import type { Point } from '../math/matrix3.js';
import type { Raster } from '../raster/raster.js';
import { combAt } from './comb-fit.js';
import type { TickReading } from './read-ticks.js';
import type { Reference, TickMark } from './reference.js';
import { rulerSdMm } from './ruler-class.js';
import { rulerOutline } from './ruler-outline.js';
import { sideMarks } from './tick-sides.js';
import { pointOnTick } from './tick-strip.js';

/** Sideways standard deviation of marks whose ends tell nothing, px. */
const UNKNOWN_LEVEL_PX = 3;

/** The scale from read ticks; marks are the ticks at the middle of their common depth, all on one straight line. */
export function referenceFromRuler(
  picture: Raster<Uint8Array>,
  luma: Raster<Uint8Array>,
  reading: TickReading,
  rulerClass: RulerClass = 'II',
): Reference {
  const { line, comb, hierarchy, fit } = reading;
  const depth = (line.depthFrom + line.depthTo) / 2;
  const at = (s: number): Point => pointOnTick(line, s, depth);
  const marks = fit.marks.map(({ k, x }) => ({
    picture: at(x),
    planeMm: [k * hierarchy.pitchMm, 0] as Point,
  }));
  const first = fit.marks[0].k;
  const last = fit.marks[fit.marks.length - 1].k;
  const { ends, lengthMm } = markEnds(reading);
  const middle = (first + last) / 2;
  const before = at(combAt(comb, middle - 0.5));
  const after = at(combAt(comb, middle + 0.5));
  const pxPerMm = Math.hypot(after[0] - before[0], after[1] - before[1]) / hierarchy.pitchMm;
  // Slope of a line through n even marks: sd = rms * sqrt(12 / n) / span.
  const readingSd = (fit.rms * Math.sqrt(12 / fit.marks.length)) / (pxPerMm * lengthMm);
  const ticks: TickMark[] = reading.ticks.map((t) => ({
    foot: pointOnTick(line, t.s, t.from),
    tip: pointOnTick(line, t.s, t.to),
    rank: hierarchy.rankOf(t.k),
  }));
  return {
    source: 'ruler',
    unit: hierarchy.unit,
    marks,
    sideMarks: sideMarks(luma, reading),
    markSdPx: Math.max(0.03, fit.rms),
    levelSdPx: Math.min(UNKNOWN_LEVEL_PX, reading.levelSdPx),
    pxPerMm,
    relativeSd: Math.hypot(readingSd, rulerSdMm(rulerClass, lengthMm) / lengthMm),
    rulerClass,
    ends,
    lengthMm,
    corners: null,
    outline: rulerOutline(picture, reading),
    isClear: reading.grid.length > 0,
    ticks,
  };
}

/** First and last of the marks read, picture px, and how far they are apart. */
export function markEnds({ line, comb, hierarchy, fit }: TickReading): {
  ends: [Point, Point];
  lengthMm: number;
} {
  const depth = (line.depthFrom + line.depthTo) / 2;
  const first = fit.marks[0].k;
  const last = fit.marks[fit.marks.length - 1].k;
  const at = (k: number): Point => pointOnTick(line, combAt(comb, k), depth);
  return { ends: [at(first), at(last)], lengthMm: (last - first) * hierarchy.pitchMm };
}

/** Two given points and the length between them. `readingPx`: how well a person points, default 1 px. */
export function referenceFromPoints(
  from: Point,
  to: Point,
  lengthMm: number,
  rulerClass: RulerClass = 'II',
  readingPx = 1,
): Reference {
  const distancePx = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return {
    source: 'points',
    unit: null,
    marks: [
      { picture: from, planeMm: [0, 0] },
      { picture: to, planeMm: [lengthMm, 0] },
    ],
    sideMarks: [],
    markSdPx: readingPx,
    levelSdPx: readingPx,
    pxPerMm: distancePx / lengthMm,
    relativeSd: Math.hypot((Math.SQRT2 * readingPx) / distancePx, rulerSdMm(rulerClass, lengthMm) / lengthMm),
    rulerClass,
    ends: [from, to],
    lengthMm,
    corners: null,
    outline: null,
    isClear: false,
    ticks: [],
  };
}

/** A flatbed scan of known density: no tilt, one scale everywhere. */
export function referenceFromDensity(pxPerMm: number): Reference {
  return {
    source: 'density',
    unit: null,
    marks: [],
    sideMarks: [],
    markSdPx: 0,
    levelSdPx: 0,
    pxPerMm,
    // A scanner's feed is good to about one part in a thousand (common practice).
    relativeSd: 0.001,
    rulerClass: null,
    ends: null,
    lengthMm: null,
    corners: null,
    outline: null,
    isClear: false,
    ticks: [],
  };
}
