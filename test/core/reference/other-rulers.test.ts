import { describe, expect, it } from 'vitest';
import { findReference } from '../../../src/core/pipeline/find-reference.js';
import { isInsidePolygon } from '../../../src/core/raster/fill-polygon.js';
import { halve } from '../../../src/core/raster/halve.js';
import { raster } from '../../../src/core/raster/raster.js';
import { otherRulers } from '../../../src/core/reference/other-rulers.js';
import { referenceFromDensity } from '../../../src/core/reference/reference-from-ruler.js';
import { stripes } from '../../support/painted-scene.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import { pinholeCamera } from '../../support/photo-painter/pinhole-camera.js';
import type { PlacedReference, Scene } from '../../support/photo-painter/scene.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

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

  it.each([1, -1] as const)(
    'are hidden though no lengths say on which side of its marks one lies (%d)',
    (side) => {
      const [width, height, pxPerMm, level] = [1400, 1000, 8, 500];
      const random = seededRandom(3);
      const data = new Uint8Array(3 * width * height);
      for (let y = 0; y < height; y++) {
        for (let x = 0; x < width; x++) {
          const depth = side * (y - level);
          const inTick = depth > 4 && depth < 34 && x % pxPerMm < 2;
          const onRule = depth >= 0 && depth < 30 * pxPerMm && x > 60 && x < 1340;
          const cloth = Math.floor((x + 2 * y) / 130) % 2 === 0 ? 205 : 180;
          const grey = (onRule ? (inTick ? 190 : 45) : cloth) + 3 * random.gaussian();
          data.fill(grey, 3 * (y * width + x), 3 * (y * width + x) + 3);
        }
      }
      const picture = raster(width, height, 3, data);
      const others = otherRulers(picture, halve(picture), referenceFromDensity(pxPerMm));
      for (const depth of [20, 120, 220])
        expect(others.some((one) => isInsidePolygon([700, level + side * depth], one))).toBe(true);
      expect(others.some((one) => isInsidePolygon([700, level + side * 330], one))).toBe(false);
    },
  );
});
