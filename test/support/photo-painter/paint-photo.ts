import { type Raster, raster } from '../../../src/core/raster/raster.js';
import { borderPainter } from './cloth-border.js';
import { foldedCloth } from './cloth-folds.js';
import { type ClothView, clothSurface } from './cloth-surface.js';
import { objectPainter } from './foreign-objects.js';
import { laidReference } from './laid-reference.js';
import { lightField } from './light-field.js';
import { type PinholeCamera, pinholeCamera, undistortGain } from './pinhole-camera.js';
import { inverseMap } from './plane-map.js';
import { referenceSurface, shadowGain } from './reference-surface.js';
import type { CameraSpec, PlacedReference, Scene } from './scene.js';
import { type SceneTruth, sceneTruth } from './scene-truth.js';
import { type SeededRandom, seededRandom } from './seeded-random.js';
import { sensor } from './sensor.js';

export interface PaintedPhoto {
  /** Upright, encoded sRGB, 3 channels. */
  readonly picture: Raster<Uint8Array>;
  readonly truth: SceneTruth;
}

/** Paints the cloth, lays the reference on it and photographs both. The same scene gives the same bytes. */
export function paintPhoto(scene: Scene): PaintedPhoto {
  const camera = pinholeCamera(scene.camera);
  const { widthPx, heightPx } = scene.camera;
  const view = clothView(camera, scene.camera);
  const pxPerMm = camera.focalPx / scene.camera.distanceMm;
  const cloth = clothSurface(scene.cloth, view, pxPerMm, seededRandom(scene.seed));
  const references = [...(scene.reference ? [scene.reference] : []), ...(scene.moreReferences ?? [])].map(
    (placed, i) => laid(placed, camera, seededRandom(scene.seed + 1 + 7919 * i)),
  );
  const light = lightField(scene.light, widthPx, heightPx);
  const film = sensor(scene.sensor, widthPx, heightPx, seededRandom(scene.seed + 2));
  const { borders = [], folds = [] } = scene.cloth;
  const paintBorders = borders.length > 0 ? borderPainter(borders, seededRandom(scene.seed + 3)) : null;
  const fold = folds.length > 0 ? foldedCloth(folds, camera) : null;
  const objects = scene.objects ?? [];
  const paintObjects = objects.length > 0 ? objectPainter(objects, seededRandom(scene.seed + 4)) : null;

  const clothFrom = planeReader(inverseMap(camera.photoFromPlane(0)));
  const [r, g, b] = scene.light.cast;
  const { k1 } = scene.camera;
  const halfDiagonal2 = camera.halfDiagonalPx ** 2;
  const out = new Float64Array(3);
  const at = new Float64Array(6);
  const onFold = new Float64Array(2);
  const grads = new Float64Array(4);
  const row = new Float32Array(widthPx * 3);

  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      let px = x + 0.5;
      let py = y + 0.5;
      const gain = light(px, py);
      if (k1 !== 0) {
        const dx = px - widthPx / 2;
        const dy = py - heightPx / 2;
        const undo = undistortGain(k1, (dx * dx + dy * dy) / halfDiagonal2);
        px = widthPx / 2 + dx * undo;
        py = heightPx / 2 + dy * undo;
      }
      clothFrom(px, py, at);
      gradients(at, grads);
      onFold[0] = at[0];
      onFold[1] = at[1];
      const slopeLight = fold ? fold(onFold) : 1;
      cloth.paint(onFold[0], onFold[1], grads, out);
      if (paintBorders) paintBorders(onFold[0], onFold[1], grads, out);
      if (fold) for (let c = 0; c < 3; c++) out[c] *= slopeLight;
      for (const reference of references) reference(px, py, at, out);
      if (paintObjects) paintObjects(at[0], at[1], grads, out);
      row[x * 3] = out[0] * gain * r;
      row[x * 3 + 1] = out[1] * gain * g;
      row[x * 3 + 2] = out[2] * gain * b;
    }
    film.expose(row);
  }
  const picture = raster(widthPx, heightPx, 3, film.finish());
  return { picture, truth: sceneTruth(scene, camera, cloth, view) };
}

/** Fills [u, v, du/dx, du/dy, dv/dx, dv/dy] at an undistorted photo point. */
export function planeReader(m: readonly number[]) {
  const [a, b, c, d, e, f, g, h, i] = m;
  return (x: number, y: number, to: Float64Array): void => {
    const w = 1 / (g * x + h * y + i);
    const u = (a * x + b * y + c) * w;
    const v = (d * x + e * y + f) * w;
    to[0] = u;
    to[1] = v;
    to[2] = (a - g * u) * w;
    to[3] = (b - h * u) * w;
    to[4] = (d - g * v) * w;
    to[5] = (e - h * v) * w;
  };
}

function gradients(at: Float64Array, to: Float64Array): void {
  for (let i = 0; i < 4; i++) to[i] = at[i + 2];
}

/** Paints one reference and its shadow at a photo point, `at` being where the ray meets the cloth. */
export function laid(placed: PlacedReference, camera: PinholeCamera, random: SeededRandom) {
  const surface = referenceSurface(placed, random);
  const { ownFromCloth } = laidReference(placed, surface.sizeMm);
  const topFrom = planeReader(inverseMap(camera.photoFromPlane(placed.heightMm)));
  const [width, height] = surface.sizeMm;
  const top = new Float64Array(6);
  const own = new Float64Array(6);
  const grads = new Float64Array(4);
  const reach = 6;
  return (px: number, py: number, at: Float64Array, out: Float64Array): void => {
    ownFromCloth(at, own);
    if (own[0] <= -reach || own[0] >= width + reach || own[1] <= -reach || own[1] >= height + reach) return;
    const shade = shadowGain(own[0], own[1], surface.sizeMm, placed.heightMm);
    for (let c = 0; c < 3; c++) out[c] *= shade;
    topFrom(px, py, top);
    ownFromCloth(top, own);
    gradients(own, grads);
    surface.paintOver(own[0], own[1], grads, out);
  };
}

/** The smallest box of the cloth frame that holds all that is seen. */
function clothView(camera: PinholeCamera, { widthPx, heightPx }: CameraSpec): ClothView {
  const rim: [number, number][] = [];
  for (let i = 0; i <= 8; i++) {
    const x = (widthPx * i) / 8;
    const y = (heightPx * i) / 8;
    for (const [px, py] of [
      [x, 0],
      [x, heightPx],
      [0, y],
      [widthPx, y],
    ])
      rim.push(camera.clothFromPhoto(px, py));
  }
  const us = rim.map(([u]) => u);
  const vs = rim.map(([, v]) => v);
  return { u: [Math.min(...us), Math.max(...us)], v: [Math.min(...vs), Math.max(...vs)] };
}
