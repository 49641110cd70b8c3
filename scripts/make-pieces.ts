import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { formatPieces, parsePieces, writePiecesDxf, writePiecesSvg } from '../src/index.js';
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
