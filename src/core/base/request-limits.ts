/** A region narrower than this shows no stripe along its length. */
export const LEAST_REGION_PX = 100;
/** No repeat that fits into a photo has more. */
export const MOST_BANDS = 200;
/** Coarser shows no stripe, finer no scanner gives: 2.5 to 25,400 pixels an inch. */
export const DENSITY = { least: 0.1, most: 1000 } as const;
/** True when all four turns go the same way, so the outline neither crosses itself nor folds in. */
export function isConvex(points: readonly (readonly [number, number])[]): boolean {
  const turns = points.map(([x, y], k) => {
    const [x1, y1] = points[(k + 1) % 4] as readonly [number, number];
    const [x2, y2] = points[(k + 2) % 4] as readonly [number, number];
    return (x1 - x) * (y2 - y1) - (y1 - y) * (x2 - x1);
  });
  return turns.every((turn) => turn > 0) || turns.every((turn) => turn < 0);
}
