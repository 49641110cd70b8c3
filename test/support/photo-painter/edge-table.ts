import type { BandSpec } from './scene.js';
import type { SeededRandom } from './seeded-random.js';

/** Edges of every band in view, as they truly run. Piecewise straight between rows STEP_MM apart. */
export interface EdgeTable {
  readonly edgeCount: number;
  /** Index of the band (within the repeat) that starts at an edge. */
  readonly bandOfEdge: Int32Array;
  readonly repeatOfEdge: Int32Array;
  readonly vFromMm: number;
  readonly rowCount: number;
  /** Position of edge e at row r: us[r * edgeCount + e], growing with e. */
  readonly us: Float32Array;
}

export const EDGE_ROW_MM = 0.25;

export interface EdgeLook {
  readonly unevenness: number;
  readonly wanderMm: number;
  readonly raggedMm: number;
}

/** Lays the bands from uFrom to uTo, repeat 0 starting at u = 0, and lets every edge run unevenly. */
export function edgeTable(
  bands: readonly BandSpec[],
  look: EdgeLook,
  [uFrom, uTo]: readonly [number, number],
  [vFrom, vTo]: readonly [number, number],
  random: SeededRandom,
): EdgeTable {
  const repeatMm = bands.reduce((sum, band) => sum + band.widthMm, 0);
  const firstRepeat = Math.floor(uFrom / repeatMm) - 1;
  const lastRepeat = Math.ceil(uTo / repeatMm) + 1;
  const n = bands.length;
  const edgeCount = (lastRepeat - firstRepeat) * n + 1;
  const rowCount = Math.ceil((vTo - vFrom) / EDGE_ROW_MM) + 2;
  const bandOfEdge = new Int32Array(edgeCount);
  const repeatOfEdge = new Int32Array(edgeCount);
  const us = new Float32Array(edgeCount * rowCount);

  for (let repeat = firstRepeat; repeat < lastRepeat; repeat++) {
    const widths = unevenWidths(bands, look.unevenness, repeatMm, random);
    let start = repeat * repeatMm;
    for (let band = 0; band < n; band++) {
      const edge = (repeat - firstRepeat) * n + band;
      bandOfEdge[edge] = band;
      repeatOfEdge[edge] = repeat;
      us[edge] = start;
      start += widths[band];
    }
  }
  bandOfEdge[edgeCount - 1] = 0;
  repeatOfEdge[edgeCount - 1] = lastRepeat;
  us[edgeCount - 1] = lastRepeat * repeatMm;

  const narrowest = Math.min(...bands.map((band) => band.widthMm));
  for (let edge = 0; edge < edgeCount; edge++) {
    const base = us[edge];
    const run = edgeRun(look, narrowest, rowCount, random);
    for (let row = 0; row < rowCount; row++) us[row * edgeCount + edge] = base + run[row];
  }
  return { edgeCount, bandOfEdge, repeatOfEdge, vFromMm: vFrom, rowCount, us };
}

/** Widths scattered by a fraction of themselves, then scaled so that the repeat keeps its length. */
function unevenWidths(
  bands: readonly BandSpec[],
  unevenness: number,
  repeatMm: number,
  random: SeededRandom,
): number[] {
  const raw = bands.map((band) => band.widthMm * (1 + unevenness * clamped(random.gaussian(), 2.5)));
  const sum = raw.reduce((total, width) => total + width, 0);
  return raw.map((width) => (width * repeatMm) / sum);
}

/** Departure of one edge from straight, row by row: three slow waves and a smoothed random step. */
function edgeRun(look: EdgeLook, narrowestMm: number, rowCount: number, random: SeededRandom): Float32Array {
  const run = new Float32Array(rowCount);
  const limit = narrowestMm * 0.3;
  const waves = [0, 1, 2].map(() => ({
    amplitude: (look.wanderMm * Math.SQRT2 * random.between(0.6, 1.4)) / Math.sqrt(3),
    perRow: (2 * Math.PI * EDGE_ROW_MM) / random.between(60, 320),
    phase: random.between(0, 2 * Math.PI),
  }));
  // A first-order random walk about zero with a 1 mm memory.
  const keep = Math.exp(-EDGE_ROW_MM / 1);
  const kick = look.raggedMm * Math.sqrt(1 - keep * keep);
  let ragged = 0;
  for (let row = 0; row < rowCount; row++) {
    ragged = keep * ragged + (kick > 0 ? kick * random.gaussian() : 0);
    let slow = 0;
    if (look.wanderMm > 0)
      for (const wave of waves) slow += wave.amplitude * Math.sin(wave.phase + wave.perRow * row);
    run[row] = clamped(slow + ragged, limit);
  }
  return run;
}

const clamped = (value: number, limit: number): number => Math.max(-limit, Math.min(limit, value));
