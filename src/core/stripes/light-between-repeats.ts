import { Matrix, solve } from 'ml-matrix';
import type { LightField } from './light-field.js';
import type { Segment } from './segment.js';
import type { BandPlace } from './stripe-reading.js';

/** Scatter of a band's log brightness against the bend of the light from node to node, squared: 0.02 to 0.1. */
const STIFFNESS = 0.04;
/**
 * Light that comes again with the repeat is taken for colour, whatever it is, so noise alone would draw it. A wave of so many nodes is
 * held back by the stiffness as it is, and one as long as the repeat as much: a bend's square falls with the fourth power.
 */
const FINEST_NODES = 2;

/** Natural logarithm of the light's gain at evenly spaced places across, cell middles first, mean 0. */
export type LightAcross = Float64Array;

/**
 * What the light does across the stripes: between the repeats one band has one colour, so what differs smoothly is light. Least
 * squares for one log brightness a band and one log gain a node, held smooth. Falloff along with the stripes cannot be
 * told from colour within one repeat, only between repeats.
 *
 * @param width Columns of the straight picture.
 */
export function lightBetweenRepeats(
  width: number,
  nodes: number,
  segments: readonly Segment[],
  places: readonly (BandPlace | null)[],
  bands: number,
): LightAcross {
  const rows = segments.flatMap((s, i) => {
    const place = places[i];
    const level = 0.2126 * s.linear[0] + 0.7152 * s.linear[1] + 0.0722 * s.linear[2];
    if (place === null || !(level > 0.003)) return [];
    const weights = new Float64Array(nodes);
    const at = nodeAt((s.from + s.to) / 2, width, nodes);
    weights[at.left] = 1 - at.share;
    weights[at.left + 1] = at.share;
    return [{ band: place.band, y: Math.log(level), weights }];
  });
  const columns = segments.reduce((sum, s, i) => sum + (places[i] === null ? 0 : s.to - s.from), 0);
  const nodesARepeat = rows.length > 0 ? (nodes * bands * columns) / (width * rows.length) : 0;
  return smoothGains(rows, nodes, bands, STIFFNESS * Math.max(1, (nodesARepeat / FINEST_NODES) ** 4));
}

/** Where a column lies between two nodes. */
function nodeAt(column: number, width: number, nodes: number): { left: number; share: number } {
  const held = Math.min(nodes - 1, Math.max(0, (column / width) * nodes - 0.5));
  const left = Math.min(nodes - 2, Math.floor(held));
  return { left, share: held - left };
}

export function acrossGainAt(across: LightAcross, column: number, width: number): number {
  const { left, share } = nodeAt(column, width, across.length);
  return across[left] + share * (across[left + 1] - across[left]);
}

/** The light field with what light does across the stripes added to every row. */
export const withLightAcross = (light: LightField, across: LightAcross): LightField => ({
  ...light,
  logGain: light.logGain.map((g, i) => g + across[i % light.columns]),
});

function smoothGains(
  rows: readonly { readonly band: number; readonly y: number; readonly weights: Float64Array }[],
  nodes: number,
  bands: number,
  stiffness: number,
): Float64Array {
  // Band means taken off both sides: only differences between instances of a band speak of light.
  const count = new Float64Array(bands);
  const meanY = new Float64Array(bands);
  const meanW = Array.from({ length: bands }, () => new Float64Array(nodes));
  for (const r of rows) {
    count[r.band]++;
    meanY[r.band] += r.y;
    for (let k = 0; k < nodes; k++) meanW[r.band][k] += r.weights[k];
  }
  const normal = Matrix.zeros(nodes, nodes);
  const right = Matrix.zeros(nodes, 1);
  for (const r of rows) {
    const y = r.y - meanY[r.band] / count[r.band];
    const w = r.weights.map((v, k) => v - meanW[r.band][k] / count[r.band]);
    for (let p = 0; p < nodes; p++) {
      if (w[p] === 0) continue;
      right.set(p, 0, right.get(p, 0) + w[p] * y);
      for (let q = 0; q < nodes; q++) normal.set(p, q, normal.get(p, q) + w[p] * w[q]);
    }
  }
  const bend = [1, -2, 1];
  for (let k = 0; k + 2 < nodes; k++) {
    for (let p = 0; p < 3; p++) {
      for (let q = 0; q < 3; q++) {
        normal.set(k + p, k + q, normal.get(k + p, k + q) + stiffness * bend[p] * bend[q]);
      }
    }
  }
  // A level light is the default where nothing speaks against it.
  for (let k = 0; k < nodes; k++) normal.set(k, k, normal.get(k, k) + 1e-4);
  const gains = Float64Array.from(solve(normal, right).to1DArray());
  const mean = gains.reduce((s, g) => s + g, 0) / nodes;
  return gains.map((g) => g - mean);
}
