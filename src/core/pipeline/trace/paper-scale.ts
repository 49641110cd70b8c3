import { type Outcome, succeed } from '../../base/outcome.js';
import type { ReferenceRequest } from '../../base/request.js';
import type { Point } from '../../math/matrix3.js';
import { fillPolygon, grownPolygon } from '../../raster/fill-polygon.js';
import type { Photo } from '../../raster/photo.js';
import { raster } from '../../raster/raster.js';
import type { Reference } from '../../reference/reference.js';
import { findReference } from '../find-reference.js';

/** What gives a photo of paper its scale: one reference or two rulers, and what lies about that is no paper of the pattern. */
export interface PaperScale {
  readonly references: readonly Reference[];
  /** Outlines, picture px. */
  readonly things: readonly (readonly Point[])[];
}

/** Two rulers on one table show scales this near each other, whatever the tilt: 12 degrees make 15 % over a photo. */
const MOST_APART = 0.3;

/** As asked for; with nothing asked, a ruler or two, else a sheet of paper or a card. */
export function paperScale(photo: Photo, request: ReferenceRequest | null): Outcome<PaperScale> {
  const asked = request ?? { kind: 'ruler', unit: 'auto' };
  const found = findReference(photo, asked);
  if (!found.ok) return found;
  const first = found.value;
  const second = first.source === 'ruler' ? secondRuler(photo, first) : null;
  return succeed(scaleOf(second === null ? [first] : [first, second]));
}

const scaleOf = (references: readonly Reference[]): PaperScale => ({
  references,
  things: references.flatMap(({ outline }) => (outline ? [outline] : [])),
});

/** Another ruler elsewhere in the picture, looked for with the first one painted over. */
function secondRuler(photo: Photo, first: Reference): Reference | null {
  const { picture } = photo;
  const painted = picture.data.slice();
  if (first.outline === null) return null;
  const mask = new Uint8Array(picture.width * picture.height);
  fillPolygon(mask, picture.width, picture.height, grownPolygon(first.outline, 2 * first.pxPerMm), 1);
  for (let i = 0; i < mask.length; i++) if (mask[i]) painted.fill(128, 3 * i, 3 * i + 3);
  const second = findReference(
    { ...photo, picture: raster(picture.width, picture.height, 3, painted) },
    { kind: 'ruler', unit: 'auto' },
  );
  if (!second.ok || second.value.source !== 'ruler') return null;
  const apart = Math.abs(Math.log(second.value.pxPerMm / first.pxPerMm));
  return apart < MOST_APART ? second.value : null;
}
