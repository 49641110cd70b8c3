import { describe, expect, it } from 'vitest';
import { findReference } from '../../../src/core/pipeline/find-reference.js';
import { isInsidePolygon } from '../../../src/core/raster/fill-polygon.js';
import { halve } from '../../../src/core/raster/halve.js';
import { otherRulers } from '../../../src/core/reference/other-rulers.js';
import { stripes } from '../../support/painted-scene.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import { pinholeCamera } from '../../support/photo-painter/pinhole-camera.js';
import type { PlacedReference, Scene } from '../../support/photo-painter/scene.js';

const placed = (type: PlacedReference['type'], vMm: number, angleDeg: number): PlacedReference => ({
  type,
  atMm: [0, vMm],
  angleDeg,
  heightMm: 0,
  wear: 0.1,
});

const scene = (more: readonly PlacedReference[]): Scene => ({
  name: 'rulers',
  category: 'test',
  seed: 4,
  expectedOutcome: 'measure',
  cloth: stripes([
    { colour: '#2a3a63', widthMm: 18 },
    { colour: '#ebe2cb', widthMm: 12 },
    { colour: '#bd8738', widthMm: 9 },
  ]),
  reference: placed('metal-mm', 50, 4),
  moreReferences: more,
  camera: {
    widthPx: 1800,
    heightPx: 1350,
    focal35Mm: 26,
    exifFocal: true,
    exifOrientation: 1,
    distanceMm: 180,
    tiltDeg: [4, -3],
    rollDeg: 8,
    k1: 0,
    aimMm: [0, 0],
  },
  light: { exposure: 0.9, gradient: [0.05, 0], vignette: 0.1, cast: [1, 1, 1], shadows: [] },
  sensor: { blurPx: 0.7, noiseLevels: 2, jpegQuality: 92 },
});

/** Outlines of others in a scene, and where a place of the cloth lies in the picture. */
function outlinesIn(painted: Scene) {
  const { picture } = paintPhoto(painted);
  const half = halve(picture);
  const photo = {
    picture,
    photoPerPicture: 1,
    widthPx: picture.width,
    heightPx: picture.height,
    focal35Mm: 26,
  };
  const found = findReference(photo, { kind: 'ruler', unit: 'auto' }, half);
  if (!found.ok) throw new Error(found.refusal.found);
  const { photoFromCloth } = pinholeCamera(painted.camera);
  return {
    first: found.value,
    others: otherRulers(picture, half, found.value),
    at: (u: number, v: number) => photoFromCloth(u, v),
  };
}

describe('other rulers', () => {
  it('are outlined, whatever their unit, and the cloth beside them is not', () => {
    const { first, others, at } = outlinesIn(scene([placed('wood-inch', -40, 7)]));
    const outlines = [first.outline ?? [], ...others];
    expect(others).toHaveLength(1);
    for (const v of [50, -40]) expect(outlines.some((one) => isInsidePolygon(at(10, v), one))).toBe(true);
    for (const v of [4, -75]) expect(outlines.some((one) => isInsidePolygon(at(0, v), one))).toBe(false);
  });

  it('are none where one ruler lies on the cloth', () => {
    expect(outlinesIn(scene([])).others).toEqual([]);
  });
});
