import {
  type MeasuredCloth,
  NO_HINTS,
  type Outcome,
  type ReferenceRequest,
  type Stage,
  type StripeHints,
  succeed,
  UsageError,
} from '../index.js';
import { type PhotoFile, readPhoto } from './read-photo.js';
import { type ShrunkPhoto, shrunkPhoto } from './shrunk-photo.js';

/** What one photo file gave, with the photo it was read from. */
export interface PhotoMeasurement extends MeasuredCloth {
  readonly photo: PhotoFile;
  /** What the overlay is drawn on. */
  readonly shrunk: Promise<ShrunkPhoto>;
}

export interface MeasurePhotoOptions {
  /** What a person says of the stripes; by default all is found. */
  readonly hints?: StripeHints;
  /** Told when a stage begins. */
  readonly onStage?: (stage: Stage) => void;
}

/**
 * Measures the stripes in a photo file. By default a ruler is looked for, whatever its unit. A photo that cannot be read or
 * measured is refused with the reason; a request that cannot be meant (points outside the photo) throws UsageError.
 */
export async function measurePhoto(
  path: string,
  request: ReferenceRequest = { kind: 'ruler', unit: 'auto' },
  { hints = NO_HINTS, onStage }: MeasurePhotoOptions = {},
): Promise<Outcome<PhotoMeasurement>> {
  onStage?.('reading');
  // While sharp decodes on its own threads, the rest of the program is loaded on this one; not before, or it would be in the way.
  const read = await readPhoto(path, () => void import('../index.js'));
  if (!read.ok) return read;
  const { measureCloth } = await import('../index.js');
  const photo = read.value;
  checkInside(request, photo);
  checkRegion(hints, photo);
  const shrunk = shrunkPhoto(photo);
  // Whoever needs it will meet a failure there.
  shrunk.catch(() => {});
  const measured = measureCloth(photo, request, { hints, onStage, now: () => performance.now() });
  if (!measured.ok) return measured;
  const { model } = measured.value;
  const warnings = [...photo.warnings, ...model.warnings];
  return succeed({ ...measured.value, photo, shrunk, model: { ...model, warnings } });
}

/** Throws UsageError for a point that lies outside the photo. */
export function checkInside(request: ReferenceRequest, { widthPx, heightPx, file }: PhotoFile): void {
  const [parameter, points] =
    request.kind === 'points'
      ? ['points', [request.from, request.to]]
      : ['corners', request.kind === 'sheet' ? (request.corners ?? []) : []];
  for (const [x, y] of points) {
    if (!(x >= 0 && y >= 0 && x <= widthPx && y <= heightPx)) {
      throw new UsageError(
        `the point ${x},${y} lies outside ${file}, which is ${widthPx} x ${heightPx} pixels when upright`,
        parameter,
      );
    }
  }
}

function checkRegion({ region }: StripeHints, { widthPx, heightPx, file }: PhotoFile): void {
  if (region === null) return;
  const { x, y, width, height } = region;
  if (!(x >= 0 && y >= 0 && x + width <= widthPx && y + height <= heightPx)) {
    throw new UsageError(
      `${x},${y},${width},${height} reaches outside ${file}, which is ${widthPx} x ${heightPx} pixels when upright`,
      'region',
    );
  }
}
