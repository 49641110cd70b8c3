/** Sets mask pixels whose centres lie inside the closed polygon (px, corner-origin frame) to `value`. Even-odd rule. */
export function fillPolygon(
  mask: Uint8Array,
  width: number,
  height: number,
  polygon: readonly (readonly [number, number])[],
  value: number,
): void {
  const ys = polygon.map((p) => p[1]);
  const yFrom = Math.max(0, Math.floor(Math.min(...ys)));
  const yTo = Math.min(height - 1, Math.ceil(Math.max(...ys)));
  for (let y = yFrom; y <= yTo; y++) {
    const crossings: number[] = [];
    const yc = y + 0.5;
    for (let i = 0; i < polygon.length; i++) {
      const [x0, y0] = polygon[i];
      const [x1, y1] = polygon[(i + 1) % polygon.length];
      if (y0 <= yc !== y1 <= yc) crossings.push(x0 + ((yc - y0) * (x1 - x0)) / (y1 - y0));
    }
    crossings.sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const from = Math.max(0, Math.ceil(crossings[k] - 0.5));
      const to = Math.min(width - 1, Math.ceil(crossings[k + 1] - 0.5) - 1);
      if (to >= from) mask.fill(value, y * width + from, y * width + to + 1);
    }
  }
}

/** The polygon grown outwards from its middle by `byPx` along each corner's bisector, good for convex quadrilaterals. */
export function grownPolygon(
  polygon: readonly (readonly [number, number])[],
  byPx: number,
): [number, number][] {
  const n = polygon.length;
  let area = 0;
  for (let i = 0; i < n; i++) {
    const [x0, y0] = polygon[i];
    const [x1, y1] = polygon[(i + 1) % n];
    area += x0 * y1 - x1 * y0;
  }
  const outward = area > 0 ? 1 : -1;
  return polygon.map(([x, y], i) => {
    const [px, py] = polygon[(i + n - 1) % n];
    const [qx, qy] = polygon[(i + 1) % n];
    const a = Math.hypot(x - px, y - py) || 1;
    const b = Math.hypot(qx - x, qy - y) || 1;
    // Outward normals of the two sides that meet here.
    const n1x = (outward * (y - py)) / a;
    const n1y = (-outward * (x - px)) / a;
    const n2x = (outward * (qy - y)) / b;
    const n2y = (-outward * (qx - x)) / b;
    const k = byPx / Math.max(0.2, 1 + n1x * n2x + n1y * n2y);
    return [x + k * (n1x + n2x), y + k * (n1y + n2y)];
  });
}

/** Whether a point lies inside the closed polygon. Even-odd rule. */
export function isInsidePolygon(
  [x, y]: readonly [number, number],
  polygon: readonly (readonly [number, number])[],
): boolean {
  let inside = false;
  polygon.forEach(([x0, y0], i) => {
    const [x1, y1] = polygon[(i + 1) % polygon.length];
    if (y0 <= y !== y1 <= y && x < x0 + ((y - y0) * (x1 - x0)) / (y1 - y0)) inside = !inside;
  });
  return inside;
}
