import { clothMap } from '../rectify/camera-plane.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';
import { pictureFromStraight } from '../rectify/stripe-frame.js';
import type { StripeView } from '../rectify/stripe-view.js';
import { metSelvage } from '../stripes/selvage.js';
import type { RoughReading } from '../stripes/stripe-reading.js';

/**
 * Skew of stripes that run into a selvage, as ASTM D3882 counts it: how far they lean, along the selvage, over the width square to
 * it, in percent; positive where the selvage rises towards growing u. Null where no selvage is met.
 */
export function selvageSkewPercent(
  { frame, straight }: StripeView,
  reading: RoughReading,
  { camera, bowPerMm }: PlaneSolution,
): number | null {
  const selvage = metSelvage(straight.cloth, reading.segments);
  if (selvage === null) return null;
  const { clothFromPicture } = clothMap(camera);
  const points = selvage.ends.map(({ column, row }) => {
    const u = straight.uFromPx + (column + 0.5) * straight.pxPerColumn;
    const v = straight.vFromPx - row * straight.pxPerRow;
    const [uMm, vMm] = clothFromPicture(...pictureFromStraight(frame, u, v));
    return [uMm - bowPerMm * vMm * vMm, vMm] as const;
  });
  const n = points.length;
  const mu = points.reduce((s, p) => s + p[0], 0) / n;
  const mv = points.reduce((s, p) => s + p[1], 0) / n;
  const uu = points.reduce((s, p) => s + (p[0] - mu) ** 2, 0);
  const uv = points.reduce((s, p) => s + (p[0] - mu) * (p[1] - mv), 0);
  return (100 * uv) / uu;
}
