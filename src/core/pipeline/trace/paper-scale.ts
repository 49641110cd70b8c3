import { type Outcome, succeed } from '../../base/outcome.js';
import type { ReferenceRequest, SheetSize } from '../../base/request.js';
import type { Point } from '../../math/matrix3.js';
import { fillPolygon, grownPolygon } from '../../raster/fill-polygon.js';
import { halve } from '../../raster/halve.js';
import type { Photo } from '../../raster/photo.js';
import { type Raster, raster } from '../../raster/raster.js';
import { findSheet } from '../../reference/find-sheet.js';
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

/** As asked for; with nothing asked, a ruler or two, else a sheet of paper, else a card. */
export function paperScale(photo: Photo, request: ReferenceRequest | null): Outcome<PaperScale> {
  const half = halve(photo.picture);
  if (request !== null && request.kind !== 'ruler') {
    const found = findReference(photo, request, half);
    return found.ok ? succeed(scaleOf([found.value])) : found;
  }
  const ruler = findReference(photo, request ?? { kind: 'ruler', unit: 'auto' }, half);
  if (ruler.ok) {
    const second = secondRuler(photo, ruler.value, request);
    return succeed(scaleOf(second === null ? [ruler.value] : [ruler.value, second]));
  }
  if (request !== null || ruler.refusal.reason !== 'no-scale') return ruler;
  const sheet = anySheet(photo, half);
  return sheet === null
    ? {
        ok: false,
        refusal: {
          reason: 'no-scale',
          found: 'No ruler, white sheet or bank card found',
          remedy:
            'lay an A4 or letter sheet, a bank card or two rulers flat beside the paper, all of it in view, and say which it is',
          settings: ['sheet', 'ruler', 'points'],
        },
      }
    : succeed(scaleOf([sheet]));
}

const scaleOf = (references: readonly Reference[]): PaperScale => ({
  references,
  things: references.flatMap(({ outline }) => (outline ? [outline] : [])),
});

/** The best of the known sheets, by how much of its sides is seen and how near its shape is; a card only where there is no sheet. */
function anySheet(photo: Photo, half: Raster<Uint8Array>): Reference | null {
  let best: { size: SheetSize; merit: number } | null = null;
  for (const size of ['a4', 'letter', 'id1'] as const) {
    if (size === 'id1' && best !== null) break;
    const found = findSheet(photo, size);
    if (!found.ok) continue;
    const merit = found.value.seen - 4 * found.value.misfit;
    if (best === null || merit > best.merit) best = { size, merit };
  }
  if (best === null) return null;
  const reference = findReference(photo, { kind: 'sheet', size: best.size, corners: null }, half);
  return reference.ok ? reference.value : null;
}

/** Another ruler elsewhere in the picture, looked for with the first one painted over. */
function secondRuler(photo: Photo, first: Reference, request: ReferenceRequest | null): Reference | null {
  const { picture } = photo;
  const painted = picture.data.slice();
  if (first.outline === null) return null;
  const mask = new Uint8Array(picture.width * picture.height);
  fillPolygon(mask, picture.width, picture.height, grownPolygon(first.outline, 2 * first.pxPerMm), 1);
  for (let i = 0; i < mask.length; i++) if (mask[i]) painted.fill(128, 3 * i, 3 * i + 3);
  const second = findReference(
    { ...photo, picture: raster(picture.width, picture.height, 3, painted) },
    request ?? { kind: 'ruler', unit: 'auto' },
  );
  if (!second.ok) return null;
  const apart = Math.abs(Math.log(second.value.pxPerMm / first.pxPerMm));
  return apart < MOST_APART ? second.value : null;
}
