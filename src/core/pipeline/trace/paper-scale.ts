import { type Outcome, succeed } from '../../base/outcome.js';
import type { ReferenceRequest } from '../../base/request.js';
import type { Point } from '../../math/matrix3.js';
import { fillPolygon, grownPolygon } from '../../raster/fill-polygon.js';
import { halve } from '../../raster/halve.js';
import { lumaOf, partialLuma } from '../../raster/luminance.js';
import type { Photo } from '../../raster/photo.js';
import { raster } from '../../raster/raster.js';
import { findRuler } from '../../reference/find-ruler.js';
import { followRule } from '../../reference/follow-rule.js';
import { otherRulers } from '../../reference/other-rulers.js';
import type { Reference } from '../../reference/reference.js';
import { referenceFromRuler } from '../../reference/reference-from-ruler.js';
import { findReference } from '../find-reference.js';
import { sheetByGround } from './sheet-by-ground.js';

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
  const seen = findReference(photo, asked);
  const found = seen.ok || seen.refusal.reason !== 'no-scale' ? seen : byGround(photo, asked, seen);
  if (!found.ok) return found;
  const first = found.value;
  if (first.source !== 'ruler') return succeed({ references: [first], things: outlinesOf([first]) });
  const second = secondRuler(photo, first);
  const references = second === null ? [first] : [first, second];
  // One that cannot be read is no piece of the pattern all the same.
  const others = second === null ? otherRulers(photo.picture, halve(photo.picture), first) : [];
  return succeed({ references, things: [...outlinesOf(references), ...others] });
}

/** A sheet or card that its own sides did not show. */
function byGround(photo: Photo, asked: ReferenceRequest, refused: Outcome<never>): Outcome<Reference> {
  if (asked.kind === 'sheet') return asked.corners ? refused : sheetByGround(photo, [asked.size], refused);
  const anything = asked.kind === 'ruler' && asked.unit === 'auto';
  return anything ? sheetByGround(photo, ['a4', 'letter', 'id1'], refused) : refused;
}

const outlinesOf = (references: readonly Reference[]): (readonly Point[])[] =>
  references.flatMap(({ outline }) => (outline ? [outline] : []));

/** Another ruler elsewhere in the picture, looked for with the first one painted over. */
function secondRuler(photo: Photo, first: Reference): Reference | null {
  const { picture } = photo;
  const painted = picture.data.slice();
  if (first.outline === null) return null;
  const mask = new Uint8Array(picture.width * picture.height);
  fillPolygon(mask, picture.width, picture.height, grownPolygon(first.outline, 2 * first.pxPerMm), 1);
  for (let i = 0; i < mask.length; i++) if (mask[i]) painted.fill(128, 3 * i, 3 * i + 3);
  const free = raster(picture.width, picture.height, 3, painted);
  const part = partialLuma(free);
  const reading = findRuler(part, lumaOf(halve(free)));
  if (!reading.ok) return null;
  const second = referenceFromRuler(
    free,
    part.luma,
    followRule(part, reading.value),
    first.rulerClass ?? undefined,
  );
  const apart = Math.abs(Math.log(second.pxPerMm / first.pxPerMm));
  return apart < MOST_APART ? second : null;
}
