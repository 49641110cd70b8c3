import { describe, expect, it } from 'vitest';
import { invert3, type Matrix3, transformPoint } from '../../../src/core/math/matrix3.js';
import { halve } from '../../../src/core/raster/halve.js';
import { lumaOf, partialLuma } from '../../../src/core/raster/luminance.js';
import type { Raster } from '../../../src/core/raster/raster.js';
import { combAt } from '../../../src/core/reference/comb-fit.js';
import { findRuler as findRulerIn } from '../../../src/core/reference/find-ruler.js';
import { rulerOutline } from '../../../src/core/reference/ruler-outline.js';
import { pointOnTick } from '../../../src/core/reference/tick-strip.js';
import { stripes } from '../../support/painted-scene.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import type { BandSpec, PlacedReference, Scene } from '../../support/photo-painter/scene.js';

const ticking: BandSpec[] = [
  { colour: '#2a3a63', widthMm: 18 },
  { colour: '#ebe2cb', widthMm: 6 },
  { colour: '#bd8738', widthMm: 4 },
  { colour: '#ebe2cb', widthMm: 9 },
];
const fineTicking: BandSpec[] = [
  { colour: '#2a3a63', widthMm: 1.4 },
  { colour: '#ebe2cb', widthMm: 2.4 },
];

const findRuler = (picture: Raster<Uint8Array>, unit: 'auto' | 'mm' | 'inch' = 'auto') =>
  findRulerIn(partialLuma(picture), lumaOf(halve(picture)), unit);

const scene = (reference: PlacedReference | null, bands = ticking): Scene => ({
  name: 'ruler',
  category: 'test',
  seed: 9,
  expectedOutcome: 'measure',
  cloth: { ...stripes(bands), weave: { threadMm: 0.45, relief: 0.06, slub: 0.01 } },
  reference,
  camera: {
    widthPx: 1600,
    heightPx: 1200,
    focal35Mm: 26,
    exifFocal: true,
    exifOrientation: 1,
    distanceMm: 215,
    tiltDeg: [3, -4],
    rollDeg: 14,
    k1: 0,
    aimMm: [0, 0],
  },
  light: { exposure: 0.9, gradient: [0.06, -0.05], vignette: 0.1, cast: [1, 1, 1], shadows: [] },
  sensor: { blurPx: 0.7, noiseLevels: 2, jpegQuality: 92 },
});

const lying = (type: PlacedReference['type'], angleDeg: number): PlacedReference => ({
  type,
  atMm: [4, -6],
  angleDeg,
  heightMm: 0,
  wear: 0.1,
});

describe('findRuler', () => {
  // The painter draws rulers from the standards' own sizes and shares no code with the reader.
  it.each([
    ['metal-mm', 33, 'mm', 1],
    ['metal-mm', 213, 'mm', 1],
    ['wood-inch', 95, 'inch', 25.4 / 16],
    ['grid-inch', 20, 'inch', 25.4 / 8],
    ['tape-mm', 2, 'mm', 1],
    ['black-mm', 140, 'mm', 1],
    ['metre-stick', 78, 'mm', 1],
  ] as const)('reads a %s at %d degrees in %s, to a thousandth', (type, angleDeg, unit, pitchMm) => {
    const { picture, truth } = paintPhoto(scene(lying(type, angleDeg)));
    const found = findRuler(picture);
    expect(found.ok).toBe(true);
    if (!found.ok) return;
    const { hierarchy, comb, ticks, line } = found.value;
    expect(hierarchy.unit).toBe(unit);
    expect(hierarchy.pitchMm).toBeCloseTo(pitchMm, 9);
    const clothFromPhoto = invert3(truth.homography_cloth_mm_to_photo_px.flat() as unknown as Matrix3);
    const [first, last] = [ticks[0].k, ticks[ticks.length - 1].k];
    const depth = (line.depthFrom + line.depthTo) / 2;
    const [a, b] = [first, last].map((k) =>
      transformPoint(clothFromPhoto, pointOnTick(line, combAt(comb, k), depth)),
    );
    const trueMm = Math.hypot(b[0] - a[0], b[1] - a[1]);
    expect(Math.abs(((last - first) * pitchMm) / trueMm - 1)).toBeLessThan(1e-3);
  });

  it('outlines the body of the rule, not the cloth beside it', () => {
    const { picture, truth } = paintPhoto(scene(lying('metal-mm', 33)));
    const found = findRuler(picture);
    if (!found.ok) throw new Error('not found');
    // Places on the rule and a little off it on every side, in mm along and across from its middle.
    const corners = truth.reference?.corners_px as [number, number][];
    const clothFromPhoto = invert3(truth.homography_cloth_mm_to_photo_px.flat() as unknown as Matrix3);
    const outline = rulerOutline(picture, found.value).map((p) => transformPoint(clothFromPhoto, p));
    const inCloth = corners.map((p) => transformPoint(clothFromPhoto, p));
    const across = (points: readonly (readonly number[])[]): [number, number] => {
      const [p, q] = inCloth;
      const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
      const offsets = points.map(
        ([x, y]) => ((q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0])) / length,
      );
      return [Math.min(...offsets), Math.max(...offsets)];
    };
    const [trueLow, trueHigh] = across(inCloth);
    const [low, high] = across(outline);
    // A rule's shadow may pass for its edge: 4 mm of cloth more than needed is left out at most.
    expect(Math.abs(low - trueLow)).toBeLessThan(4);
    expect(Math.abs(high - trueHigh)).toBeLessThan(4);
  });

  it.each([
    ['wide stripes', ticking],
    ['fine ticking, a comb as well', fineTicking],
  ])('finds none on %s alone', (_, bands) => {
    const { picture } = paintPhoto(scene(null, bands));
    expect(findRuler(picture)).toMatchObject({ ok: false, refusal: { reason: 'no-scale' } });
  });

  it('does not take a metric rule for an inch one, even when told to', () => {
    const { picture } = paintPhoto(scene(lying('metal-mm', 33)));
    expect(findRuler(picture, 'inch').ok).toBe(false);
    expect(findRuler(picture, 'mm').ok).toBe(true);
  });
});
