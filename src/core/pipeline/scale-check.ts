import type { ReferenceRequest } from '../base/request.js';
import type { Setting } from '../base/setting.js';
import type { Point } from '../math/matrix3.js';
import type { Warning } from '../model/band-model.js';
import { lumaOf, partialLuma } from '../raster/luminance.js';
import type { Raster } from '../raster/raster.js';
import { clothMap } from '../rectify/camera-plane.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';
import { findRuler } from '../reference/find-ruler.js';
import { markEnds } from '../reference/reference-from-ruler.js';
import { rulerSdMm } from '../reference/ruler-class.js';
import { heightSd, type ScaleUncertainty } from './scale-uncertainty.js';

/** A stretch of a ruler in view of a photo whose scale was given in another way. */
export interface RulerBeside {
  /** Its first and last mark, picture px, and how far they are apart. */
  readonly ends: readonly [Point, Point];
  readonly lengthMm: number;
}

/** Figures further apart than so many standard deviations contradict each other. */
const CONTRADICTED = 4;

/** The ruler in plain view, if there is one: a look at the half-size picture, which one with clear marks needs. */
export function rulerBeside(picture: Raster<Uint8Array>, half: Raster<Uint8Array>): RulerBeside | null {
  const reading = findRuler(partialLuma(picture), lumaOf(half), 'auto', 'first');
  return reading.ok ? markEnds(reading.value) : null;
}

/** A warning where the ruler in view contradicts the scale that was given, beyond what both may be wrong by. */
export function contradictions(
  request: ReferenceRequest,
  beside: RulerBeside | null,
  plane: PlaneSolution,
  { repeatSd }: ScaleUncertainty,
): Warning[] {
  if (beside === null || request.kind === 'ruler') return [];
  const { clothFromPicture } = clothMap(plane.camera);
  const [p, q] = beside.ends;
  const [from, to] = [clothFromPicture(...p), clothFromPicture(...q)];
  const givenMm = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const times = givenMm / beside.lengthMm;
  const sd = Math.hypot(
    repeatSd,
    rulerSdMm('II', beside.lengthMm) / beside.lengthMm,
    heightSd('ruler', plane),
  );
  if (Math.abs(Math.log(times)) < CONTRADICTED * sd) return [];
  const lengthPx = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const pxPerMm = (mm: number): string => (lengthPx / mm).toPrecision(3);
  return [
    {
      code: 'scale-contradicted',
      message: `The scale given comes to ${pxPerMm(givenMm)} pixels a mm, but by the ruler in view it is ${pxPerMm(beside.lengthMm)}: if the ruler is right, every length here is ${wrongBy(times)}. Check the number given, or leave it out and the ruler is read.`,
      settings: [request.kind satisfies Setting],
    },
  ];
}

const wrongBy = (times: number): string => {
  const far = Math.max(times, 1 / times);
  const how = times > 1 ? 'long' : 'short';
  return far < 1.5
    ? `${(100 * Math.abs(times - 1)).toFixed(1)} % too ${how}`
    : `${far.toFixed(1)} times too ${how}`;
};
