import { type Raster, raster } from '../../../src/core/raster/raster.js';
import { lightField } from '../photo-painter/light-field.js';
import { laid, planeReader } from '../photo-painter/paint-photo.js';
import { pinholeCamera, undistortGain } from '../photo-painter/pinhole-camera.js';
import { inverseMap } from '../photo-painter/plane-map.js';
import { seededRandom } from '../photo-painter/seeded-random.js';
import { sensor } from '../photo-painter/sensor.js';
import { groundSurface } from './ground-surface.js';
import type { PaperScene } from './paper-scene.js';
import { paperSurface, weightSurface } from './paper-surface.js';

/** Lays paper, references and weights on the ground and photographs them: upright, encoded sRGB. The same scene gives the same bytes. */
export function paintPaperPhoto(scene: PaperScene): Raster<Uint8Array> {
  const camera = pinholeCamera(scene.camera);
  const { widthPx, heightPx, k1 } = scene.camera;
  const ground = groundSurface(scene.ground, seededRandom(scene.seed));
  const papers = scene.papers.map((sheet, k) =>
    paperSurface(sheet, scene.shadow, seededRandom(scene.seed + 11 + k)),
  );
  const references = scene.references.map((placed, k) =>
    laid(placed, camera, seededRandom(scene.seed + 31 + k)),
  );
  const weights = scene.weights.map(weightSurface);
  const light = lightField(scene.light, widthPx, heightPx);
  const film = sensor(scene.sensor, widthPx, heightPx, seededRandom(scene.seed + 2));
  const groundFrom = planeReader(inverseMap(camera.photoFromPlane(0)));
  const halfDiagonal2 = camera.halfDiagonalPx ** 2;
  const [r, g, b] = scene.light.cast;
  const out = new Float64Array(3);
  const at = new Float64Array(6);
  const grads = new Float64Array(4);
  const row = new Float32Array(3 * widthPx);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const dx = x + 0.5 - widthPx / 2;
      const dy = y + 0.5 - heightPx / 2;
      const undo = k1 === 0 ? 1 : undistortGain(k1, (dx * dx + dy * dy) / halfDiagonal2);
      const px = widthPx / 2 + dx * undo;
      const py = heightPx / 2 + dy * undo;
      groundFrom(px, py, at);
      for (let i = 0; i < 4; i++) grads[i] = at[i + 2];
      const pixelMm = Math.sqrt(Math.abs(grads[0] * grads[3] - grads[1] * grads[2]));
      ground(at[0], at[1], grads, out);
      for (const paper of papers) paper(at[0], at[1], pixelMm, out);
      for (const reference of references) reference(px, py, at, out);
      for (const weight of weights) weight(at[0], at[1], pixelMm, out);
      const gain = light(x + 0.5, y + 0.5);
      row[3 * x] = out[0] * gain * r;
      row[3 * x + 1] = out[1] * gain * g;
      row[3 * x + 2] = out[2] * gain * b;
    }
    film.expose(row);
  }
  return raster(widthPx, heightPx, 3, film.finish());
}
