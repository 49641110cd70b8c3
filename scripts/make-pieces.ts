import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { formatPieces, parsePieces, writePiecesDxf, writePiecesSvg } from '../src/index.js';
import { paintPaperPhoto } from '../test/support/paper-painter/paint-paper-photo.js';
import { gorePhotoScene } from './drafting/gore-photo.js';
import { tunicPieces } from './drafting/tunic.js';

const folder = new URL('../samples/pieces/', import.meta.url);
mkdirSync(folder, { recursive: true });
const read = parsePieces(
  formatPieces({ format: 'stripewright.pieces', version: 1, units: 'mm', pieces: tunicPieces() }),
);
if (!read.ok) throw new Error(read.refusal.found);
const files = {
  'tunic.pieces.json': formatPieces(read.value),
  'tunic.svg': writePiecesSvg(read.value),
  'tunic.dxf': writePiecesDxf(read.value),
};
for (const [name, text] of Object.entries(files)) {
  writeFileSync(new URL(name, folder), text);
  process.stdout.write(`${fileURLToPath(new URL(name, folder))}\n`);
}

// A photo of one of them, cut from paper.
const scene = gorePhotoScene();
const { width, height, data } = paintPaperPhoto(scene);
const photo = fileURLToPath(new URL('gore.jpg', folder));
await sharp(data, { raw: { width, height, channels: 3 } })
  .withExif({ IFD2: { FocalLengthIn35mmFilm: String(scene.camera.focal35Mm) } })
  .jpeg({ quality: scene.sensor.jpegQuality, chromaSubsampling: '4:2:0' })
  .toFile(photo);
process.stdout.write(`${photo}\n`);
