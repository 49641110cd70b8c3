import { writeFile } from 'node:fs/promises';
import sharp from 'sharp';
import type { PaintedPhoto } from './paint-photo.js';
import type { Scene } from './scene.js';

/** Turn that brings the upright picture to the stored one for an EXIF orientation. */
const STORED_TURN = { 1: 0, 3: 180, 6: 270, 8: 90 } as const;

/** Writes NAME.jpg with its EXIF, and the truth beside it as NAME.truth.json. */
export async function writePhoto(scene: Scene, photo: PaintedPhoto, base: string): Promise<void> {
  const { width, height, data } = photo.picture;
  const { exifOrientation, exifFocal, focal35Mm } = scene.camera;
  let image = sharp(data, { raw: { width, height, channels: 3 } }).rotate(STORED_TURN[exifOrientation]);
  if (exifFocal) image = image.withExif({ IFD2: { FocalLengthIn35mmFilm: String(Math.round(focal35Mm)) } });
  await image
    .withMetadata({ orientation: exifOrientation })
    .jpeg({ quality: scene.sensor.jpegQuality, chromaSubsampling: '4:2:0' })
    .toFile(`${base}.jpg`);
  await writeFile(`${base}.truth.json`, `${JSON.stringify(photo.truth, null, 1)}\n`);
}
