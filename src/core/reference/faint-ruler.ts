import type { Raster } from '../raster/raster.js';
import { sampleBilinear } from '../raster/sample.js';
import { type Comb, combAt, combNumberAt, combPitchAt } from './comb-fit.js';
import { type FaintHierarchy, faintHierarchy, type MarkDepths } from './faint-hierarchy.js';
import type { Tick, TickReading } from './read-ticks.js';
import { evenProfile, type SideComb } from './side-combs.js';
import { pointOnTick, type TickLine } from './tick-strip.js';
import { type WaveMarks, waveMarks } from './wave-marks.js';

/** The wave may be that of long marks: so many shorter ones may go to one of them. */
const PARTS = [1, 2, 4, 5, 8, 10, 16, 20];
/** Finer marks than this are no marks in a picture, px. */
const FINEST_PX = 1.9;
/** Marks are looked for this many spacings outside the edge and inside it. */
const OUTSIDE = 2;
const INSIDE = 16;
const DEEPEST_PX = 140;
/** Levels of luma beyond which a mark is a numeral or a stripe's end. */
const MOST = 30;
/** The likelihood's lead (natural log) over other scales and patterns from which on a ruler is sure. */
const SURE = 20;
/** Marks lean no further than this from square to their edge, as a slope, or what was followed is no mark. */
const STEEPEST = 0.36;
/** Crests lie this near an even comb: a part of the spacing, and px where the spacing is fine. */
const UNEVEN = 0.06;
const UNEVEN_PX = 0.25;

/** So short a stretch of an edge is straight in any photo, px. */
const STRAIGHT_PX = 800;

/** A ruler from the wave of marks beside an edge; null where their ranks do not tell a scale beyond doubt. */
export function faintRuler(
  luma: Raster<Uint8Array>,
  side: SideComb,
  unit: 'auto' | 'mm' | 'inch',
): TickReading | null {
  const waves = ([1, -1] as const).flatMap((sign) => {
    const wave = waveMarks(luma, side, sign);
    return wave === null ? [] : [{ sign, wave }];
  });
  const even = waves.filter(({ wave }) => wave.rms <= Math.max(UNEVEN_PX, UNEVEN * meanPitch(wave)));
  if (even.length > 0) return likeliest(luma, side, even, unit);
  // A lens bends a long rule, and its marks then keep no projective law over the whole of it.
  if (waves.length === 0 || side.lengthPx < 2 * STRAIGHT_PX) return null;
  const halves = halvesOf(side).map((half) => faintRuler(luma, half, unit));
  return halves.reduce((a, b) => (b !== null && (a === null || b.score > a.score) ? b : a), null);
}

/** Both halves of an edge with their share of the wave. */
function halvesOf(side: SideComb): SideComb[] {
  const lengthPx = side.lengthPx / 2;
  return [0, 1].map((half) => ({
    ...side,
    x: side.x + half * lengthPx * side.alongX,
    y: side.y + half * lengthPx * side.alongY,
    lengthPx,
    pitchPx: side.pitchPx * (1 + side.growth * (half - 0.5) * 0.5),
    growth: side.growth / 2,
  }));
}

/** The reading of the marks of one of the waves, or of marks between them, that is likeliest; null where none is sure. */
function likeliest(
  luma: Raster<Uint8Array>,
  side: SideComb,
  waves: readonly { readonly sign: 1 | -1; readonly wave: WaveMarks }[],
  unit: 'auto' | 'mm' | 'inch',
): TickReading | null {
  let best: { found: FaintHierarchy; wave: WaveMarks; line: TickLine; comb: Comb; above: number } | null =
    null;
  for (const { sign, wave } of waves) {
    const line = levelLine(luma, side, wave);
    if (line === null) continue;
    for (const parts of PARTS) {
      const comb = { a: wave.comb.a / parts, b: wave.comb.b, c: wave.comb.c / parts };
      const pitch = meanPitch(wave) / parts;
      if (pitch < FINEST_PX) break;
      const marks = markDepths(luma, line, comb, parts, wave, pitch, sign, side.depthPx);
      const found = faintHierarchy(marks, pitch, unit);
      if (found === null || found.lead < SURE) continue;
      if (best === null || found.gain > best.found.gain) {
        best = { found, wave, line, comb, above: firstDepth(pitch, side.depthPx) };
      }
    }
  }
  return best && asReading(best.found, best.wave, best.line, best.comb, best.above);
}

const meanPitch = ({ comb, marks }: WaveMarks): number =>
  Math.abs(combPitchAt(comb, (marks[0].k + marks[marks.length - 1].k) / 2));

/** Of the depths that are looked at, from the level line, px. */
const firstDepth = (pitch: number, levelDepth: number): number => -Math.round(levelDepth + OUTSIDE * pitch);

/** The line at the wave's own depth, with the marks' direction from how the wave's phase shifts with depth. */
function levelLine(luma: Raster<Uint8Array>, side: SideComb, { comb, marks }: WaveMarks): TickLine | null {
  const from = marks[0].x;
  const to = marks[marks.length - 1].x;
  const middle = (from + to) / 2;
  const slopes = [slantIn(luma, side, comb, from, middle), slantIn(luma, side, comb, middle, to)];
  if (slopes.some((slope) => Math.abs(slope) > STEEPEST)) return null;
  const square = Math.atan2(side.inY, side.inX);
  // Towards the line's own direction, whichever way round the angle then grows.
  const turn = side.alongX * side.inY - side.alongY * side.inX > 0 ? -1 : 1;
  const angles = slopes.map((slope) => square + turn * Math.atan(slope));
  const tickTurn = (angles[1] - angles[0]) / Math.max(1, (to - from) / 2);
  return {
    x: side.x + side.depthPx * side.inX,
    y: side.y + side.depthPx * side.inY,
    alongX: side.alongX,
    alongY: side.alongY,
    tickAngle: (angles[0] + angles[1]) / 2 - tickTurn * middle,
    tickTurn,
    bend: 0,
    fromPx: from,
    toPx: to,
    seen: { fromPx: from, toPx: to },
    depthFrom: -1,
    depthTo: 1,
  };
}

/** Depths to either side of the wave's own over which its phase is followed: spacings, and px at least and at most. */
const SLANT_REACH = [2.6, 12, 40] as const;
/** Strips in that reach, one on another. */
const SLANT_STRIPS = 12;
/** A wave this much weaker than at its best tells no phase. */
const WEAKER = 0.3;

/** px along the edge for each px of depth by which marks between two places lean. */
function slantIn(luma: Raster<Uint8Array>, side: SideComb, comb: Comb, from: number, to: number): number {
  const count = Math.max(8, Math.floor(to - from));
  const pitch = combPitchAt(comb, combNumberAt(comb, (from + to) / 2));
  const [spacings, least, most] = SLANT_REACH;
  const reach = Math.max(least, Math.min(most, spacings * Math.abs(pitch)));
  const step = Math.round((2 * reach) / SLANT_STRIPS);
  const waves: { re: number; im: number }[] = [];
  for (let d = -reach; d < reach; d += step) {
    const profile = evenProfile(luma, side, from, count, side.depthPx + d, step);
    let re = 0;
    let im = 0;
    for (let i = 0; i < count; i++) {
      const angle = 2 * Math.PI * combNumberAt(comb, from + i);
      re += profile[i] * Math.cos(angle);
      im += profile[i] * Math.sin(angle);
    }
    waves.push({ re, im });
  }
  const strongest = Math.max(...waves.map(({ re, im }) => Math.hypot(re, im)));
  // Phase from depth to depth, weighted: products of neighbours need no unwrapping.
  let re = 0;
  let im = 0;
  for (let i = 1; i < waves.length; i++) {
    const [p, q] = [waves[i - 1], waves[i]];
    if (Math.hypot(p.re, p.im) < WEAKER * strongest || Math.hypot(q.re, q.im) < WEAKER * strongest) continue;
    re += p.re * q.re + p.im * q.im;
    im += p.re * q.im - p.im * q.re;
  }
  return ((Math.atan2(im, re) / (2 * Math.PI)) * pitch) / step;
}

function markDepths(
  luma: Raster<Uint8Array>,
  line: TickLine,
  comb: Comb,
  parts: number,
  { marks }: WaveMarks,
  pitch: number,
  sign: 1 | -1,
  levelDepth: number,
): MarkDepths {
  const { data, width, height } = luma;
  const first = marks[0].k * parts;
  const count = marks[marks.length - 1].k * parts - first + 1;
  const above = firstDepth(pitch, levelDepth);
  const depths = Math.min(DEEPEST_PX, Math.round((OUTSIDE + INSIDE) * pitch));
  const reach = Math.max(1, 0.42 * pitch);
  const values = new Float32Array(count * depths);
  for (let n = 0; n < count; n++) {
    const s = combAt(comb, first + n);
    for (let d = 0; d < depths; d++) {
      const [x, y] = pointOnTick(line, s, above + d);
      const sides =
        sampleBilinear(data, width, height, x - reach * line.alongX, y - reach * line.alongY) +
        sampleBilinear(data, width, height, x + reach * line.alongX, y + reach * line.alongY);
      const dark = sign * (sides / 2 - sampleBilinear(data, width, height, x, y));
      values[n * depths + d] = Math.max(-MOST, Math.min(MOST, dark));
    }
  }
  return { first, count, depths, values };
}

/** How well the straight edge tells a mark's level, px. */
const EDGE_SD_PX = 0.5;

function asReading(
  { scale, phase, feet, ends, lead }: FaintHierarchy,
  wave: WaveMarks,
  line: TickLine,
  comb: Comb,
  above: number,
): TickReading {
  const { unit, pitchMm, period, rank } = scale;
  const parts = Math.round(wave.comb.a / comb.a);
  const rankOf = (k: number): number => rank((((k - phase) % period) + period) % period);
  const first = wave.marks[0].k * parts;
  const last = wave.marks[wave.marks.length - 1].k * parts;
  const ticks: Tick[] = [];
  for (let k = first; k <= last; k++) {
    ticks.push({ k, s: combAt(comb, k), from: above + feet[0], to: above + ends[rankOf(k)] });
  }
  const marks = wave.marks.map(({ k, x }) => ({ k: k * parts, x }));
  return {
    line: { ...line, depthFrom: above + feet[0], depthTo: above + feet[1] },
    comb,
    fit: { comb, marks, rms: wave.rms, presence: 1 },
    hierarchy: { unit, pitchMm, phase, period, rankOf, explained: 1, lead },
    ticks,
    followed: [],
    levelSdPx: EDGE_SD_PX,
    grid: [],
    score: ticks.length,
  };
}
