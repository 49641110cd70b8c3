import { describe, expect, it } from 'vitest';
import { findReference } from '../../../src/core/pipeline/find-reference.js';
import { isInsidePolygon } from '../../../src/core/raster/fill-polygon.js';
import { stripes } from '../../support/painted-scene.js';
import { laidReference } from '../../support/photo-painter/laid-reference.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import { pinholeCamera } from '../../support/photo-painter/pinhole-camera.js';
import { RULERS } from '../../support/photo-painter/ruler-catalogue.js';
import type { PlacedReference, Scene } from '../../support/photo-painter/scene.js';

const scene = (reference: PlacedReference): Scene => ({
  name: 'curled tape',
  category: 'test',
  seed: 8,
  expectedOutcome: 'measure',
  cloth: stripes([
    { colour: '#2a3a63', widthMm: 18 },
    { colour: '#ebe2cb', widthMm: 12 },
    { colour: '#bd8738', widthMm: 9 },
  ]),
  reference,
  camera: {
    widthPx: 2000,
    heightPx: 1500,
    focal35Mm: 26,
    exifFocal: true,
    exifOrientation: 1,
    distanceMm: 260,
    tiltDeg: [1, -1],
    rollDeg: 8,
    k1: 0,
    aimMm: [0, 0],
  },
  light: { exposure: 0.9, gradient: [0.05, 0], vignette: 0.1, cast: [1, 1, 1], shadows: [] },
  sensor: { blurPx: 0.7, noiseLevels: 2, jpegQuality: 92 },
});

describe('the outline of a tape that lies in a curve', () => {
  it.each([
    ['much', 'tape-mm', -5e-4],
    ['much, in inches', 'tape-inch', 4e-4],
  ] as const)('goes along it where it is bent %s', (_, type, bendPerMm) => {
    const reference: PlacedReference = {
      type,
      atMm: [-60, 10],
      angleDeg: -20,
      heightMm: 0,
      wear: 0.1,
      bendPerMm,
    };
    const { picture } = paintPhoto(scene(reference));
    const { camera } = scene(reference);
    const photo = { picture, photoPerPicture: 1, widthPx: 2000, heightPx: 1500, focal35Mm: 26 };
    const found = findReference(photo, { kind: 'ruler', unit: 'auto' });
    if (!found.ok) throw new Error(found.refusal.found);
    const outline = found.value.outline ?? [];
    const { bodyMm, widthMm } = RULERS[type];
    const laid = laidReference(reference, [bodyMm, widthMm]);
    const view = pinholeCamera(camera);
    let seen = 0;
    for (let s = 20; s < bodyMm - 20; s += 5) {
      for (const t of [-4, 1, widthMm / 2, widthMm - 1, widthMm + 4]) {
        const [x, y] = view.photoFromCloth(...laid.clothFromOwn(s, t));
        if (x < 0 || y < 0 || x > 2000 || y > 1500) continue;
        seen++;
        const isOnTape = t > 0 && t < widthMm;
        expect(isInsidePolygon([x, y], outline), `${s} mm along, ${t} mm across`).toBe(isOnTape);
      }
    }
    expect(seen).toBeGreaterThan(200);
  });
});
