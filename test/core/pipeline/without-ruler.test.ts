import { describe, expect, it } from 'vitest';
import { findReference } from '../../../src/core/pipeline/find-reference.js';
import { plainScene, stripes } from '../../support/painted-scene.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import type { PlacedReference, Scene } from '../../support/photo-painter/scene.js';

const BANDS = [
  { colour: '#2b3a67', widthMm: 12 },
  { colour: '#c8862a', widthMm: 5 },
];

function photoOf(reference: PlacedReference | null, distanceMm: number, more: Partial<Scene> = {}) {
  const { picture } = paintPhoto(
    plainScene({
      cloth: stripes(BANDS),
      reference,
      camera: { ...plainScene().camera, widthPx: 1300, heightPx: 1000, distanceMm, tiltDeg: [2, -2] },
      sensor: { blurPx: 0.6, noiseLevels: 1, jpegQuality: 95 },
      ...more,
    }),
  );
  const [widthPx, heightPx] = [picture.width, picture.height];
  return { picture, photoPerPicture: 1, widthPx, heightPx, focal35Mm: 43 };
}

const lying = (type: PlacedReference['type'], angleDeg: number): PlacedReference => ({
  type,
  atMm: [4, -6],
  angleDeg,
  heightMm: 0,
  wear: 0,
});

const anyRuler = { kind: 'ruler', unit: 'auto' } as const;

describe('where no ruler is found', () => {
  // The camera's focal length is the picture's diagonal: 1640 px.
  it.each([
    ['a4', 'sheet-a4', 600],
    ['letter', 'sheet-letter', 600],
    ['id1', 'card-id1', 240],
  ] as const)('%s that lies there gives the scale, and is told', (size, type, distanceMm) => {
    const found = findReference(photoOf(lying(type, 31), distanceMm), anyRuler);
    if (!found.ok) throw new Error(found.refusal.found);
    expect(found.value.insteadOfRuler).toBe(size);
    expect(Math.abs(found.value.pxPerMm / (1640 / distanceMm) - 1)).toBeLessThan(0.02);
  });

  it('nor a sheet, the stripes are none', () => {
    expect(findReference(photoOf(null, 400), anyRuler)).toMatchObject({
      ok: false,
      refusal: { reason: 'no-scale', found: 'No ruler found' },
    });
  });

  it('in the unit that was said, the refusal tells what its marks look like', () => {
    const photo = photoOf({ ...lying('wood-inch', 8), wear: 0.1 }, 300);
    const found = findReference(photo, { kind: 'ruler', unit: 'mm' });
    expect(found).toMatchObject({
      ok: false,
      refusal: {
        found: "The ruler's marks look like sixteenths of an inch, but millimetres were asked for",
        remedy: 'leave out what the ruler is marked in, or say inches',
        settings: ['ruler'],
      },
    });
  });
});
