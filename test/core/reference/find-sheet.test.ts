import { describe, expect, it } from 'vitest';
import { refusalLine } from '../../../src/core/base/outcome.js';
import type { SheetSize } from '../../../src/core/base/request.js';
import { transformPoint } from '../../../src/core/math/matrix3.js';
import type { Photo } from '../../../src/core/raster/photo.js';
import { findSheet } from '../../../src/core/reference/find-sheet.js';
import { stripes } from '../../support/painted-scene.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import type {
  BandSpec,
  CameraSpec,
  LightSpec,
  PlacedReference,
  ReferenceType,
  Scene,
} from '../../support/photo-painter/scene.js';

const ticking: BandSpec[] = [
  { colour: '#2a3a63', widthMm: 12 },
  { colour: '#ebe2cb', widthMm: 7 },
  { colour: '#b9812c', widthMm: 4 },
  { colour: '#ebe2cb', widthMm: 19 },
];

const types: Readonly<Record<SheetSize, ReferenceType>> = {
  a4: 'sheet-a4',
  letter: 'sheet-letter',
  id1: 'card-id1',
};

interface Change {
  readonly reference?: Partial<PlacedReference> | null;
  readonly camera?: Partial<CameraSpec>;
  readonly light?: Partial<LightSpec>;
  readonly bands?: readonly BandSpec[];
  readonly noiseLevels?: number;
}

/** A sheet on ticking, photographed at a third of a phone's resolution: about 2.4 px a mm, 6 for a card. */
function sceneWith(size: SheetSize, change: Change): Scene {
  const camera: CameraSpec = {
    widthPx: 1360,
    heightPx: 1020,
    focal35Mm: 26,
    exifFocal: true,
    exifOrientation: 1,
    distanceMm: size === 'id1' ? 170 : 425,
    tiltDeg: [3, -4],
    rollDeg: 12,
    k1: 0,
    aimMm: [0, 0],
    ...change.camera,
  };
  return {
    name: 'sheet',
    category: 'test',
    seed: 4,
    expectedOutcome: 'measure',
    cloth: stripes(change.bands ?? ticking),
    reference:
      change.reference === null
        ? null
        : {
            type: types[size],
            atMm: [6, -9],
            angleDeg: 31,
            heightMm: size === 'id1' ? 0.76 : 0.1,
            wear: 0,
            ...change.reference,
          },
    camera,
    light: {
      exposure: 0.9,
      gradient: [0.1, -0.08],
      vignette: 0.1,
      cast: [1, 1, 1],
      shadows: [],
      ...change.light,
    },
    sensor: { blurPx: 0.8, noiseLevels: change.noiseLevels ?? 2, jpegQuality: 92 },
  };
}

function photographed(scene: Scene): { photo: Photo; corners: readonly (readonly [number, number])[] } {
  const { picture, truth } = paintPhoto(scene);
  const photo: Photo = {
    picture,
    photoPerPicture: 1,
    widthPx: picture.width,
    heightPx: picture.height,
    focal35Mm: scene.camera.exifFocal ? scene.camera.focal35Mm : null,
  };
  return { photo, corners: truth.reference?.corners_px ?? [] };
}

/** Greatest distance from a found corner to the true one nearest to it; px. */
function worstCorner(found: readonly (readonly number[])[], truth: readonly (readonly number[])[]): number {
  const nearest = found.map((p) => Math.min(...truth.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1]))));
  return Math.max(...nearest);
}

describe('findSheet', () => {
  // The painter's own geometry is the truth: corners to half a pixel, sides hence to 0.1 % for paper.
  it.each<[SheetSize, string, Change]>([
    ['a4', 'oblique', {}],
    ['a4', 'lying along the stripes', { reference: { angleDeg: 0 } }],
    [
      'letter',
      'lying across them, tilted by 14 degrees',
      { reference: { angleDeg: 90, atMm: [9, -9] }, camera: { tiltDeg: [9, -11] } },
    ],
    [
      'a4',
      'half in shadow',
      { light: { shadows: [{ at: [0.35, 0.4], radii: [0.3, 0.3], angleDeg: 20, depth: 0.5 }] } },
    ],
    ['letter', 'with a lens that bends lines', { camera: { k1: -0.02 }, reference: { angleDeg: -50 } }],
    [
      'letter',
      'under a warm lamp, noisy',
      { light: { cast: [1.12, 1, 0.72], exposure: 0.8 }, noiseLevels: 5 },
    ],
    [
      'a4',
      'focal length not known',
      { camera: { exifFocal: false, focal35Mm: 30, tiltDeg: [-6, 5], distanceMm: 560 } },
    ],
    ['id1', 'oblique', {}],
    ['id1', 'tilted, lying along the stripes', { reference: { angleDeg: 2 }, camera: { tiltDeg: [-8, 6] } }],
    ['id1', 'on fine ticking', { bands: ticking.map((band) => ({ ...band, widthMm: band.widthMm / 5 })) }],
  ])('finds the corners: %s, %s', (size, _what, change) => {
    const { photo, corners } = photographed(sceneWith(size, change));
    const outcome = findSheet(photo, size);
    if (!outcome.ok) expect.fail(refusalLine(outcome.refusal));
    expect(worstCorner(outcome.value.corners, corners)).toBeLessThan(size === 'id1' ? 1 : 0.5);
    expect(outcome.value.cornerSdPx).toBeLessThan(1);
  });

  it('is as unsure of its corners as the sides that could be its own lie apart', () => {
    // An ivory stripe runs up to the side of a card of nearly its colour.
    const bands = [
      { colour: '#2a3a63', widthMm: 26 },
      { colour: '#ebe2cb', widthMm: 8 },
    ];
    const { photo, corners } = photographed(
      sceneWith('id1', { bands, reference: { angleDeg: 86 }, camera: { distanceMm: 400 } }),
    );
    const outcome = findSheet(photo, 'id1');
    if (!outcome.ok) expect.fail(refusalLine(outcome.refusal));
    expect(worstCorner(outcome.value.corners, corners)).toBeLessThan(3 * outcome.value.cornerSdPx);
  });

  it('refuses cloth without a sheet, and a sheet of another shape', () => {
    const bare = findSheet(photographed(sceneWith('a4', { reference: null })).photo, 'a4');
    expect(bare.ok).toBe(false);
    if (!bare.ok) {
      expect(bare.refusal.reason).toBe('no-scale');
      expect(refusalLine(bare.refusal)).toContain('No A4 sheet found: lay it flat');
      expect(refusalLine(bare.refusal)).toContain('give its corners');
    }
    const { photo } = photographed(sceneWith('a4', {}));
    expect(findSheet(photo, 'letter').ok).toBe(false);
    expect(findSheet(photo, 'id1').ok).toBe(false);
  });

  const onStripes = sceneWith('id1', { reference: { type: 'grid-inch', heightMm: 0, angleDeg: 12 } });
  const { ground } = onStripes.cloth;
  if (ground.kind !== 'striped') throw new Error('the scene has no stripes');
  const onCheck: Scene = {
    ...onStripes,
    cloth: { ...onStripes.cloth, ground: { ...ground, check: ticking } },
  };

  it.each([
    ['a clear ruler on stripes', onStripes],
    ['a check and a clear ruler', onCheck],
  ])('takes no part of %s for a card', (_what, scene) => {
    expect(findSheet(photographed(scene).photo, 'id1').ok).toBe(false);
  });
});

describe('findSheet and the picture it works on', () => {
  it('finds the same sheet when the photo is turned: a quarter turn only changes names', () => {
    const { photo } = photographed(sceneWith('a4', {}));
    const { width, height, data } = photo.picture;
    const turned = new Uint8Array(data.length);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        for (let c = 0; c < 3; c++) {
          turned[3 * (x * height + (height - 1 - y)) + c] = data[3 * (y * width + x) + c];
        }
      }
    }
    const upright = findSheet(photo, 'a4');
    const aside = findSheet(
      { ...photo, picture: { width: height, height: width, channels: 3, data: turned } },
      'a4',
    );
    if (!upright.ok || !aside.ok) expect.fail('not found');
    const quarter = [0, -1, height, 1, 0, 0, 0, 0, 1] as const;
    const expected = upright.value.corners.map((p) => transformPoint(quarter, p));
    expect(worstCorner(aside.value.corners, expected)).toBeLessThan(0.15);
  });
});
