import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import {
  assemblePieces,
  type ReferenceRequest,
  readPhoto,
  type SheetSize,
  tracePaper,
} from '../../../src/node.js';
import { paintPaperPhoto } from '../../../test/support/paper-painter/paint-paper-photo.js';
import type { PaperScene } from '../../../test/support/paper-painter/paper-scene.js';
import { type PaperTruth, paperTruth } from '../../../test/support/paper-painter/paper-truth.js';
import {
  type PaperWishes,
  randomPaperScene,
} from '../../../test/support/paper-painter/random-paper-scene.js';
import { even, type PieceScore, pieceOf, scorePiece } from './score-trace.js';

type Place = readonly [number, number];

const FOLDER = fileURLToPath(new URL('../../../out/bench/', import.meta.url));
/** One photo in so many shows what must be refused, each kind in its turn. */
const MISHAP_EVERY = 6;
const MISHAPS = ['cut-off', 'touching', 'no-paper', 'no-scale', 'blurred', 'dark'] as const;

/** Traces photos of paper painted from their seeds and prints how far each is off; honest ones and such as must be refused. */
export async function benchTrace(count: number, seed: number): Promise<void> {
  await mkdir(FOLDER, { recursive: true });
  const scores: PieceScore[] = [];
  let missing = 0;
  let refusedWrongly = 0;
  let honest = 0;
  const refusals = { right: 0, wrong: 0 };
  for (let k = 0; k < count; k++) {
    const isMishap = k % MISHAP_EVERY === MISHAP_EVERY - 1;
    const wishes: PaperWishes = isMishap
      ? { mishap: MISHAPS[Math.floor(k / MISHAP_EVERY) % MISHAPS.length] }
      : {};
    const scene = randomPaperScene(seed * 1000 + k, wishes);
    const truth = paperTruth(scene);
    const told = await traceScene(scene, truth);
    const head = `${scene.name} ${truth.ground} ${truth.scale.join('+') || 'no scale'} tilt ${truth.tilt_deg.toFixed(1)}`;
    if (isMishap) {
      const right = told.reason === truth.expected;
      refusals[right ? 'right' : 'wrong']++;
      console.log(
        `${head}: ${told.reason ?? 'traced'}, expected ${truth.expected}${right ? '' : '  <-- wrong'}`,
      );
      continue;
    }
    honest++;
    if (told.reason !== null) refusedWrongly++;
    missing += Math.max(0, truth.pieces.length - told.scores.length);
    scores.push(...told.scores);
    console.log(told.reason === null ? head : `${head}: refused as ${told.reason}  <-- wrong`);
    for (const score of told.scores) console.log(`   ${scoreLine(score)}`);
  }
  console.log(`\n${honest} honest photos: ${refusedWrongly} refused, ${missing} pieces not traced`);
  console.log(
    `${refusals.right} of ${refusals.right + refusals.wrong} photos that must be refused were, for the right reason`,
  );
  if (scores.length > 0) console.log(totals(scores).join('\n'));
}

async function traceScene(
  scene: PaperScene,
  truth: PaperTruth,
): Promise<{ reason: string | null; scores: PieceScore[] }> {
  const path = await painted(scene);
  const read = await readPhoto(path);
  if (!read.ok) return { reason: read.refusal.reason, scores: [] };
  const traced = tracePaper(read.value, requestFor(truth));
  if (!traced.ok) return { reason: traced.refusal.reason, scores: [] };
  const file = assemblePieces(read.value, traced.value, 'stitching');
  const photoFromTable = mapOf(truth.photo_from_table);
  const scores = file.pieces.map((piece) => {
    const toPhoto = mapOf(piece.traced.to_photo);
    const ring = even(piece.stitching, 20).map(toPhoto);
    const middle: Place = [
      ring.reduce((s, p) => s + p[0], 0) / ring.length,
      ring.reduce((s, p) => s + p[1], 0) / ring.length,
    ];
    const own = truth.pieces[pieceOf(truth, middle, photoFromTable)];
    const named = Object.entries(piece.points);
    return own === undefined
      ? null
      : scorePiece(own, {
          outline: piece.stitching,
          corners: named.flatMap(([id, p]) => (id.startsWith('c') ? [p] : [])),
          notches: named.flatMap(([id, p]) => (id.startsWith('n') ? [p] : [])),
          grain: {
            foot: piece.grain[0],
            head: piece.grain[1],
            found: piece.traced.grain_found,
            heads: piece.traced.grain_heads,
          },
          outlineSdMm: piece.traced.outline_sd_mm,
        });
  });
  return { reason: null, scores: scores.flatMap((score) => (score === null ? [] : [score])) };
}

function requestFor({ scale }: PaperTruth): ReferenceRequest | null {
  const sizes: Readonly<Record<string, SheetSize>> = {
    'sheet-a4': 'a4',
    'sheet-letter': 'letter',
    'card-id1': 'id1',
  };
  const size = sizes[scale[0] ?? ''];
  return size === undefined ? { kind: 'ruler', unit: 'auto' } : { kind: 'sheet', size, corners: null };
}

/** The scene's photo, painted once for each set of parameters. */
async function painted(scene: PaperScene): Promise<string> {
  const key = createHash('sha256').update(JSON.stringify(scene)).digest('hex').slice(0, 12);
  const path = `${FOLDER}${scene.name}-${key}.jpg`;
  if (existsSync(path)) return path;
  const { width, height, data } = paintPaperPhoto(scene);
  let image = sharp(data, { raw: { width, height, channels: 3 } });
  if (scene.camera.exifFocal)
    image = image.withExif({ IFD2: { FocalLengthIn35mmFilm: String(scene.camera.focal35Mm) } });
  await writeFile(
    path,
    await image.jpeg({ quality: scene.sensor.jpegQuality, chromaSubsampling: '4:2:0' }).toBuffer(),
  );
  return path;
}

const mapOf =
  (m: readonly number[]) =>
  ([x, y]: Place): Place => {
    const w = m[6] * x + m[7] * y + m[8];
    return [(m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w];
  };

const scoreLine = (s: PieceScore): string =>
  `outline ${s.meanMm.toFixed(2)} mean ${s.worstMm.toFixed(2)} worst (sd told ${s.sdMm.toFixed(2)}) of ${s.extentMm.toFixed(0)} mm, area ${s.areaPercent.toFixed(2)} %, corners ${s.cornersFound} found ${s.cornersMissed} missed ${s.cornersExtra} extra ${s.cornerWorstMm.toFixed(2)} off, notches ${s.notchesFound} found ${s.notchesMissed} missed ${s.notchesExtra} extra, grain ${s.grain}${s.grainDeg === null ? '' : ` ${s.grainDeg.toFixed(2)} deg`}`;

function totals(scores: readonly PieceScore[]): string[] {
  const at = (values: readonly number[], q: number): string =>
    (
      [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(q * values.length))] ?? 0
    ).toFixed(2);
  const row = (name: string, of: (s: PieceScore) => number): string => {
    const values = scores.map(of);
    return `${name}: median ${at(values, 0.5)}, 9 in 10 under ${at(values, 0.9)}, most ${at(values, 1)}`;
  };
  const sum = (of: (s: PieceScore) => number): number => scores.reduce((total, s) => total + of(s), 0);
  const count = (kind: PieceScore['grain']): number => scores.filter(({ grain }) => grain === kind).length;
  return [
    row('outline, mean mm', (s) => s.meanMm),
    row('outline, worst mm over 500 mm', (s) => (s.worstMm * 500) / Math.max(500, s.extentMm)),
    row('area, percent off', (s) => Math.abs(s.areaPercent)),
    row('corners, mm off', (s) => s.cornerWorstMm),
    `corners: ${sum((s) => s.cornersFound)} found, ${sum((s) => s.cornersMissed)} missed, ${sum((s) => s.cornersExtra)} extra`,
    `notches: ${sum((s) => s.notchesFound)} found, ${sum((s) => s.notchesMissed)} missed, ${sum((s) => s.notchesExtra)} extra`,
    row('grain, degrees off', (s) => s.grainDeg ?? 0),
    `grain: ${count('right')} right, ${count('none')} rightly none, ${count('missed')} missed, ${count('false')} false, ${count('turned')} turned round, ${count('heads')} with another number of heads`,
  ];
}
