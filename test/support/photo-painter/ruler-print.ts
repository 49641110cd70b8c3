import type { Noise } from './noise-tile.js';
import { coverage, lineCoverage } from './pixel-coverage.js';
import type { RulerSpec, TickRow } from './ruler-catalogue.js';
import { distanceToNumber } from './stroke-digits.js';

/** Share of a pixel under ink at (s, t); g holds ds/dx, ds/dy, dt/dx, dt/dy in mm a px. */
export type InkAt = (s: number, t: number, g: Float64Array) => number;

/** Ticks, numbers and grid of a ruler, thinned where the print is worn. */
export function rulerPrint(spec: RulerSpec, wear: number, noise: Noise): InkAt {
  const rows = spec.rows.map((row) => rowPrint(row, spec.widthMm));
  const grid = gridPrint(spec);
  return (s, t, g) => {
    let ink = grid(s, t, g);
    for (const row of rows) ink = Math.max(ink, row(s, t, g));
    if (ink === 0) return 0;
    const rubbed = Math.max(0, noise(s * 0.9, t * 0.9) * 0.5 + noise(s * 0.13, t * 0.2));
    return ink * (0.94 - wear * rubbed);
  };
}

function rowPrint(row: TickRow, widthMm: number): InkAt {
  const { divisionMm, divisions, sense, numbers } = row;
  const longest = row.ranks[0].lengthMm;
  const half = row.tickWidthMm / 2;
  const lengthOf = (k: number) => row.ranks.find(({ every }) => k % every === 0)?.lengthMm ?? 0;
  const numberDepth = numbers.depthMm;
  return (s, t, g) => {
    const along = (s - row.zeroMm) * sense;
    const depth = row.side === 'low' ? t : widthMm - t;
    const reach = depth - row.insetMm;
    if (along < -numbers.heightMm || along > divisions * divisionMm + numbers.heightMm) return 0;
    let ink = 0;
    if (reach > -1 && reach < longest + 1) {
      const k = Math.max(0, Math.min(divisions, Math.round(along / divisionMm)));
      const across = lineCoverage(along - k * divisionMm, half, g[0], g[1]);
      if (across > 0)
        ink = across * coverage(reach, g[2], g[3]) * (1 - coverage(reach - lengthOf(k), g[2], g[3]));
    }
    if (Math.abs(depth - numberDepth) < numbers.heightMm) {
      const everyMm = numbers.every * divisionMm;
      const n = Math.round(along / everyMm);
      if (n >= 1 && n * numbers.every <= divisions) {
        const x = (along - n * everyMm) / numbers.heightMm;
        const up = row.side === 'low' ? depth - numberDepth : numberDepth - depth;
        const y = (up * sense) / numbers.heightMm;
        const pixelMm = Math.hypot(g[0], g[1]);
        const away = distanceToNumber(n * numbers.step, x, y) * numbers.heightMm;
        ink = Math.max(ink, Math.max(0, Math.min(1, 0.5 + (numbers.penMm / 2 - away) / pixelMm)));
      }
    }
    return ink;
  };
}

const NOTHING: InkAt = () => 0;

/** Lines every gridMm across the ruler, and along it from its middle, with a line under each row of ticks. */
function gridPrint(spec: RulerSpec): InkAt {
  const { gridMm, bodyMm, widthMm, rows } = spec;
  if (gridMm === null) return NOTHING;
  const zero = rows[0].zeroMm;
  const half = rows[0].tickWidthMm * 0.5;
  const inset = rows[0].insetMm;
  return (s, t, g) => {
    if (s < 0 || s > bodyMm || t < inset - 1 || t > widthMm - inset + 1) return 0;
    const ds = s - zero - Math.round((s - zero) / gridMm) * gridMm;
    const middle = t - widthMm / 2;
    const dt = middle - Math.round(middle / gridMm) * gridMm;
    const inside = coverage(t - inset, g[2], g[3]) * coverage(widthMm - inset - t, g[2], g[3]);
    return Math.max(
      lineCoverage(ds, half, g[0], g[1]) * inside,
      lineCoverage(dt, half, g[2], g[3]),
      lineCoverage(t - inset, half, g[2], g[3]),
      lineCoverage(widthMm - inset - t, half, g[2], g[3]),
    );
  };
}
