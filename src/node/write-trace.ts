import { realpath } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import sharp from 'sharp';
import { checkAll, record, text } from '../core/base/expectation.js';
import {
  formatPieces,
  layOver,
  parsePieces,
  type Refusal,
  traceDrawing,
  UsageError,
  writePiecesSvg,
} from '../index.js';
import { shrunkPhoto } from './shrunk-photo.js';
import type { PhotoTrace } from './trace-photo.js';
import { resolvedFolder, writeFiles } from './write-files.js';

/** Everything that a trace may write; pieces.json last: where it is, the rest is. */
const TRACE_FILES = ['trace.png', 'pieces.svg', 'pieces.json'] as const;
const TRACE = record({ file: record({}), photo: record({ picture: record({}) }) }, 'what tracePhoto gives');
const REASONED = record({ reason: text, found: text, remedy: text }, 'a refusal');
const REFUSAL = 'refusal.json';

/** Whether a trace may be written there, asked before any work is done. Throws UsageError where it may not. */
export async function checkTraceFolder(folder: string, photoPath: string): Promise<void> {
  checkAll({ folder: [folder, text], photoPath: [photoPath, text] });
  const target = await resolvedFolder(folder);
  const photo = await realpath(photoPath).catch(() => resolve(photoPath));
  if ([...TRACE_FILES, REFUSAL].some((name) => join(target, name) === photo)) {
    throw new UsageError(`the result would overwrite ${photoPath}: name another folder`, null, ['out']);
  }
}

/** Writes pieces.json, pieces.svg and trace.png into a folder, all or none; an earlier refusal there goes. */
export async function writeTrace(folder: string, trace: PhotoTrace): Promise<void> {
  checkAll({ folder: [folder, text], trace: [trace, TRACE] });
  const { file, photo } = trace;
  const json = formatPieces(file);
  // What leaves here must pass our own reader: a file that does not is a fault of the program.
  const again = parsePieces(json);
  if (!again.ok) throw new Error(`the traced pieces are not valid: ${again.refusal.found}`);
  const ground = await shrunkPhoto(photo);
  const { svg, stripHeightPx } = traceDrawing(
    file,
    ground.width,
    ground.height,
    ground.width / photo.widthPx,
  );
  const height = ground.height + stripHeightPx;
  const rgba = await sharp(Buffer.from(svg)).ensureAlpha().raw().toBuffer();
  const shown = new Uint8Array(3 * ground.width * height).fill(255);
  shown.set(ground.data);
  for (let y = 0; y < height; y++) layOver(shown, rgba, y * ground.width, ground.width);
  const png = await sharp(shown, { raw: { width: ground.width, height, channels: 3 } })
    .png({ compressionLevel: 6 })
    .toBuffer();
  await writeFiles(
    folder,
    [
      { name: 'trace.png', content: png },
      { name: 'pieces.svg', content: writePiecesSvg(file) },
      { name: 'pieces.json', content: json },
    ],
    [REFUSAL],
  );
}

/** Writes why there is no trace, and takes away one that an earlier photo left there. */
export async function writeTraceRefusal(folder: string, refusal: Refusal): Promise<void> {
  checkAll({ folder: [folder, text], refusal: [refusal, REASONED] });
  const { reason, found, remedy } = refusal;
  const content = `${JSON.stringify({ reason, found, remedy }, null, 2)}\n`;
  await writeFiles(folder, [{ name: REFUSAL, content }], TRACE_FILES);
}
