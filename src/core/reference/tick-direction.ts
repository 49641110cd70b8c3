import { biweight, median, robustSd } from '../math/robust.js';
import type { Raster } from '../raster/raster.js';
import type { TickReading } from './read-ticks.js';
import { sidePlaces } from './tick-sides.js';
import { pointOnTick, type TickLine } from './tick-strip.js';

/** Fewer ticks tell less of their direction than the lines they were found by. */
const FEWEST = 12;
const ROUNDS = 6;

/**
 * The line with its ticks' direction as foot and tip of each show it. They were found by short thin lines, some degrees off where these
 * were few; read along a wrong direction, ticks seem to stand as that direction has it. Places at the middle of the common depths stay.
 */
export function alongTicks(luma: Raster<Uint8Array>, reading: TickReading): TickLine {
  const { line } = reading;
  const slants = slantsOf(luma, reading);
  if (slants.length < FEWEST) return line;
  const fit = slantLine(slants);
  const depth = (line.depthFrom + line.depthTo) / 2;
  const first = Math.min(...slants.map(({ s }) => s));
  const last = Math.max(...slants.map(({ s }) => s));
  if (!fit || last <= first) return line;
  const angleAt = (s: number): number => {
    const slant = fit.at + fit.change * s;
    const angle = line.tickAngle + line.tickTurn * s;
    const x = Math.cos(angle) + slant * line.alongX;
    const y = Math.sin(angle) + slant * line.alongY;
    const turned = Math.atan2(y, x) - angle;
    return angle + turned - 2 * Math.PI * Math.round(turned / (2 * Math.PI));
  };
  const tickTurn = (angleAt(last) - angleAt(first)) / (last - first);
  const tickAngle = angleAt(first) - tickTurn * first;
  /** Where the base of the line must lie for the middle depth to stay. */
  const base = (s: number): [number, number] => {
    const [x, y] = pointOnTick(line, s, depth);
    const angle = tickAngle + tickTurn * s;
    const bend = line.bend * s * s;
    return [
      x - depth * Math.cos(angle) + bend * line.alongY,
      y - depth * Math.sin(angle) - bend * line.alongX,
    ];
  };
  const [x0, y0] = base(first);
  const [x1, y1] = base(last);
  const alongX = (x1 - x0) / (last - first);
  const alongY = (y1 - y0) / (last - first);
  return { ...line, x: x0 - first * alongX, y: y0 - first * alongY, alongX, alongY, tickAngle, tickTurn };
}

interface Slant {
  readonly s: number;
  /** Change of s from foot to tip for each px of depth. */
  readonly slant: number;
  readonly weight: number;
}

function slantsOf(luma: Raster<Uint8Array>, reading: TickReading): Slant[] {
  const places = sidePlaces(luma, reading);
  const slants: Slant[] = [];
  for (let i = 1; i < places.length; i++) {
    const foot = places[i - 1];
    const tip = places[i];
    if (foot.k !== tip.k) continue;
    const length = tip.depth - foot.depth;
    slants.push({ s: (foot.s + tip.s) / 2, slant: (tip.s - foot.s) / length, weight: length * length });
  }
  return slants;
}

/** Robust weighted line: slant = at + change * s. */
function slantLine(slants: readonly Slant[]): { at: number; change: number } | null {
  let at = median(slants.map(({ slant }) => slant));
  let change = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const misses = slants.map(({ s, slant, weight }) => (slant - at - change * s) * Math.sqrt(weight));
    const sd = robustSd(misses) + 1e-9;
    let [w, ws, wy, wss, wsy] = [0, 0, 0, 0, 0];
    slants.forEach(({ s, slant, weight }, i) => {
      const p = weight * biweight(misses[i] / sd);
      w += p;
      ws += p * s;
      wy += p * slant;
      wss += p * s * s;
      wsy += p * s * slant;
    });
    const low = w * wss - ws * ws;
    if (!(low > 0)) return null;
    change = (w * wsy - ws * wy) / low;
    at = (wy - change * ws) / w;
  }
  return { at, change };
}
