import { check, finiteNumber, numberWithin, record } from '../base/expectation.js';
import { checkPicture } from '../raster/check-photo.js';
import type { ClothTexture } from './cloth-raster.js';

const TEXTURE = record(
  { pxPerMm: numberWithin({ above: 0 }), leftUMm: finiteNumber, topVMm: finiteNumber },
  "the cloth's picture",
);

/** Throws UsageError unless it is a picture of the cloth that knows where it lies. */
export function checkTexture(cloth: ClothTexture, parameter: string): void {
  check(cloth, parameter, TEXTURE);
  checkPicture(cloth.picture, `${parameter}.picture`, 4);
}
