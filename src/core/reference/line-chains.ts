import type { ThinLine } from './thin-lines.js';

/** Long thin lines, pieced together where other lines cross them: the lines of a gridded ruler. */
export interface LineChain {
  readonly x: number;
  readonly y: number;
  readonly alongX: number;
  readonly alongY: number;
  readonly fromPx: number;
  readonly toPx: number;
}

/** Chains of collinear pieces, the longest first. */
export function chainLines(lines: readonly ThinLine[], most = 24): LineChain[] {
  const pieces = lines.filter((l) => l.lengthPx > 24 && l.lengthPx > 8 * l.widthPx);
  pieces.sort((a, b) => b.lengthPx - a.lengthPx);
  const used = new Set<ThinLine>();
  const chains: LineChain[] = [];
  for (const start of pieces) {
    if (used.has(start)) continue;
    let chain = [start];
    let fit = fitChain(chain);
    for (let round = 0; round < 4; round++) {
      const tolerance = 2.5;
      chain = pieces.filter((p) => {
        if (used.has(p)) return false;
        if (Math.abs(p.dirX * fit.alongY - p.dirY * fit.alongX) > 0.05) return false;
        const across = -(p.x - fit.x) * fit.alongY + (p.y - fit.y) * fit.alongX;
        const along = (p.x - fit.x) * fit.alongX + (p.y - fit.y) * fit.alongY;
        // A first piece knows its own direction only so well: the band widens with the distance from it.
        const spread = round === 0 ? 0.006 * Math.max(0, Math.abs(along) - start.lengthPx) : 0;
        return Math.abs(across) < tolerance + spread;
      });
      if (chain.length === 0) chain = [start];
      fit = fitChain(chain);
    }
    for (const p of chain) used.add(p);
    used.add(start);
    chains.push(fit);
  }
  chains.sort((a, b) => b.toPx - b.fromPx - (a.toPx - a.fromPx));
  return chains.slice(0, most);
}

function fitChain(pieces: readonly ThinLine[]): LineChain {
  const points = pieces.flatMap((p) =>
    [-0.5, 0.5].map((side) => [p.x + side * p.lengthPx * p.dirX, p.y + side * p.lengthPx * p.dirY]),
  );
  const n = points.length;
  const x = points.reduce((s, p) => s + p[0], 0) / n;
  const y = points.reduce((s, p) => s + p[1], 0) / n;
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  for (const [px, py] of points) {
    sxx += (px - x) ** 2;
    sxy += (px - x) * (py - y);
    syy += (py - y) ** 2;
  }
  const angle = 0.5 * Math.atan2(2 * sxy, sxx - syy);
  const alongX = Math.cos(angle);
  const alongY = Math.sin(angle);
  const offsets = points.map((p) => (p[0] - x) * alongX + (p[1] - y) * alongY);
  return { x, y, alongX, alongY, fromPx: Math.min(...offsets), toPx: Math.max(...offsets) };
}
