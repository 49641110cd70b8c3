import { checkReferenceRequest, STRIPE_HINTS } from '../base/check-request.js';
import { callback, checkFields, optional, record } from '../base/expectation.js';
import { UsageError } from '../base/outcome.js';
import type { ReferenceRequest, StripeHints } from '../base/request.js';
import { checkPhoto } from '../raster/check-photo.js';
import type { Photo } from '../raster/photo.js';

const OPTIONS = record({
  hints: optional(STRIPE_HINTS),
  onStage: optional(callback),
  now: optional(callback),
});

/** Throws UsageError unless it is a photo, and its scale can be had so from it. */
export function checkPhotoAndScale(photo: Photo, request: ReferenceRequest): void {
  checkPhoto(photo, 'photo');
  checkReferenceRequest(request);
  checkInside(request, photo);
}

/** Throws UsageError unless a measurement can be meant so: each value by itself, then points and region against the photo. */
export function checkMeasureArguments(
  photo: Photo,
  request: ReferenceRequest,
  options: { readonly hints?: StripeHints },
): void {
  checkPhotoAndScale(photo, request);
  checkFields(options, 'options', OPTIONS);
  checkRegion(options.hints?.region ?? null, photo);
}

/** "ticking.jpg, which is 4000 x 3000 pixels when upright" */
const sizeWords = ({ file, widthPx, heightPx }: Photo): string =>
  `${file ?? 'the photo'}, which is ${widthPx} x ${heightPx} pixels when upright`;

function checkInside(request: ReferenceRequest, photo: Photo): void {
  const points: readonly (readonly [string, readonly [number, number]])[] =
    request.kind === 'points'
      ? [
          ['from', request.from],
          ['to', request.to],
        ]
      : request.kind === 'sheet'
        ? (request.corners ?? []).map((corner, k) => [`corners[${k}]`, corner])
        : [];
  for (const [parameter, [x, y]] of points) {
    if (!(x >= 0 && y >= 0 && x <= photo.widthPx && y <= photo.heightPx)) {
      throw new UsageError(`the point ${x},${y} lies outside ${sizeWords(photo)}`, parameter);
    }
  }
}

function checkRegion(region: StripeHints['region'], photo: Photo): void {
  if (region === null) return;
  const { x, y, width, height } = region;
  if (!(x >= 0 && y >= 0 && x + width <= photo.widthPx && y + height <= photo.heightPx)) {
    throw new UsageError(`${x},${y},${width},${height} reaches outside ${sizeWords(photo)}`, 'hints.region');
  }
}
