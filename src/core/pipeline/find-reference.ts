import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { ReferenceRequest } from '../base/request.js';
import { halve } from '../raster/halve.js';
import { fillLumaWhole, lumaOf, type PartialLuma, partialLuma } from '../raster/luminance.js';
import type { Photo } from '../raster/photo.js';
import { brightestOf, edgeBlurOf } from '../raster/picture-quality.js';
import type { Raster } from '../raster/raster.js';
import { findRuler } from '../reference/find-ruler.js';
import { findSheet } from '../reference/find-sheet.js';
import { followRule } from '../reference/follow-rule.js';
import type { Reference } from '../reference/reference.js';
import { referenceFromCorners } from '../reference/reference-from-corners.js';
import {
  referenceFromDensity,
  referenceFromPoints,
  referenceFromRuler,
} from '../reference/reference-from-ruler.js';
import { wholeRuler } from '../reference/whole-ruler.js';
import { otherUnit, sheetInstead } from './without-ruler.js';

/** Below this 98th percentile of luma (0..255) noise and rounding outweigh the cloth's colours. */
const DARKEST = 36;
/** Edge blur (sigma) over the picture's half-diagonal beyond which ticks of a ruler in view run together. */
const BLURRED = 1.1e-3;
/** A small picture's edges are as sharp as this many px (sigma) allow: marks are read under such a blur. */
const SHARP_PX = 2.4;
/** Sharp edges are no wider than this in any copy, px. */
const SOFT_PX = 2;

/**
 * The scale as it was asked for. A picture too dark or too blurred to show a ruler's marks is refused as such, not as one
 * without a ruler; where none is found, a sheet or card that leaves no doubt stands in. `half`: the picture at half its size, where a caller has it.
 */
export function findReference(
  photo: Photo,
  request: ReferenceRequest,
  half: Raster<Uint8Array> = halve(photo.picture),
): Outcome<Reference> {
  const { picture } = photo;
  const halfLuma = lumaOf(half);
  const brightest = brightestOf(halfLuma);
  if (brightest < DARKEST) {
    return refuse(
      'too-dark',
      `Photo too dark (its lightest parts are at ${brightest}, of 255 for white)`,
      'take it again in daylight or with the lamp nearer',
    );
  }
  const part = partialLuma(picture);
  const found = byKind(photo, part, halfLuma, request);
  if (found.ok) return succeed(withWholeOutline(found.value, half));
  fillLumaWhole(part);
  // Noise hides wide edges at full size, and those wider than are looked for show in the half-size copy only.
  const halfBlurPx = edgeBlurOf(halfLuma, brightest);
  const fullBlurPx = edgeBlurOf(part.luma, brightest);
  const soft = halfBlurPx !== null && (fullBlurPx === null || halfBlurPx > SOFT_PX);
  const edgeBlurPx = soft ? 2 * halfBlurPx : fullBlurPx;
  const halfDiagonal = Math.hypot(picture.width, picture.height) / 2;
  if (edgeBlurPx !== null && edgeBlurPx > Math.max(SHARP_PX, BLURRED * halfDiagonal)) {
    return refuse(
      'too-blurred',
      `Photo too blurred (edges that should be sharp are ${(edgeBlurPx * 2.5).toFixed(0)} pixels wide)`,
      'hold still, let the camera focus on the cloth, and take it again',
    );
  }
  if (request.kind !== 'ruler') return found;
  return request.unit === 'auto'
    ? sheetInstead(photo, found)
    : otherUnit(part, halfLuma, request.unit, found);
}

/** Ticks may be readable along a part of the ruler only, but all of it hides the cloth. */
function withWholeOutline(reference: Reference, half: Raster<Uint8Array>): Reference {
  const { source, outline, isClear, pxPerMm } = reference;
  return source === 'ruler' && outline && !isClear
    ? { ...reference, outline: wholeRuler(half, 2, outline, pxPerMm) }
    : reference;
}

function byKind(
  photo: Photo,
  part: PartialLuma,
  halfLuma: Raster<Uint8Array>,
  request: ReferenceRequest,
): Outcome<Reference> {
  const { picture, photoPerPicture } = photo;
  const inPicture = (p: readonly [number, number]): [number, number] => [
    p[0] / photoPerPicture,
    p[1] / photoPerPicture,
  ];
  switch (request.kind) {
    case 'ruler': {
      const reading = findRuler(part, halfLuma, request.unit);
      return reading.ok
        ? succeed(referenceFromRuler(picture, part.luma, followRule(part, reading.value), request.rulerClass))
        : reading;
    }
    case 'points':
      return succeed(
        referenceFromPoints(
          inPicture(request.from),
          inPicture(request.to),
          request.lengthMm,
          request.rulerClass,
        ),
      );
    case 'density':
      return succeed(referenceFromDensity(request.pxPerMm / photoPerPicture));
    case 'sheet': {
      if (request.corners) {
        const byHandPx = 1 / photo.photoPerPicture;
        return referenceFromCorners(photo, request.corners.map(inPicture), request.size, byHandPx);
      }
      const sheet = findSheet(photo, request.size);
      return sheet.ok
        ? referenceFromCorners(photo, sheet.value.corners, request.size, sheet.value.cornerSdPx)
        : sheet;
    }
  }
}
