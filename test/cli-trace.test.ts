import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { scorePiece } from '../scripts/benchmark/trace/score-trace.js';
import { gorePhotoScene } from '../scripts/drafting/gore-photo.js';
import { tunicPieces } from '../scripts/drafting/tunic.js';
import { type CommandRun, runCommand } from './support/command.js';
import { paperTruth } from './support/paper-painter/paper-truth.js';

const PROJECT = fileURLToPath(new URL('..', import.meta.url));
const GORE = fileURLToPath(new URL('../samples/pieces/gore.jpg', import.meta.url));
let folder: string;

/** The real command as a child process. */
const run = (...args: string[]): Promise<CommandRun> => runCommand(PROJECT, ['trace', ...args]);
const json = async (...path: string[]) => JSON.parse(await readFile(join(folder, ...path), 'utf8'));

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'trace-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('trace', () => {
  it('makes of the photographed gore the gore that was drafted', async () => {
    const out = join(folder, 'gore');
    const told = await run(GORE, '--out', out, '--sheet', 'a4', '--units', 'cm');
    expect(told).toMatchObject({ code: 0, err: '' });
    expect(told.out).toMatch(/^piece: \d+\.\d+ cm by \d+\.\d+ cm, 3 corners, 2 notches, grain line found\n/);
    expect((await readdir(out)).sort()).toEqual(['pieces.json', 'pieces.svg', 'trace.png']);
    const { pieces, warnings, scale, plane } = await json('gore', 'pieces.json');
    expect(warnings).toEqual([]);
    expect(scale.source).toBe('sheet');
    expect(Math.abs(plane.tilt_deg - 5)).toBeLessThan(0.5);
    const [piece] = pieces;
    const named: [string, [number, number]][] = Object.entries(piece.points);
    const drafted = tunicPieces().find(({ id }) => id === 'gore')!;
    const [truth] = paperTruth(gorePhotoScene()).pieces;
    const score = scorePiece(truth, {
      outline: piece.stitching,
      corners: named.flatMap(([id, at]) => (id.startsWith('c') ? [at] : [])),
      notches: named.flatMap(([id, at]) => (id.startsWith('n') ? [at] : [])),
      grain: { foot: piece.grain[0], head: piece.grain[1], found: true, heads: piece.traced.grain_heads },
      outlineSdMm: piece.traced.outline_sd_mm,
    });
    // The reach that honest photos have: 1 mm on the average and 2 mm at worst, corners 1.5 mm, area 0.5 %, grain 0.3 degrees.
    expect(score.meanMm).toBeLessThan(0.5);
    expect(score.worstMm).toBeLessThan(1);
    expect(Math.abs(score.areaPercent)).toBeLessThan(0.5);
    expect([score.cornersFound, score.cornersMissed, score.cornersExtra]).toEqual([3, 0, 0]);
    expect(score.cornerWorstMm).toBeLessThan(1.5);
    expect(score.grain).toBe('right');
    expect(score.grainDeg).toBeLessThan(0.3);
    const length = ([[ax, ay], [bx, by]]: readonly (readonly [number, number])[]): number =>
      Math.hypot(bx - ax, by - ay);
    expect(Math.abs(length(piece.grain) / length(drafted.grain) - 1)).toBeLessThan(0.02);
  });

  it('says why a photo cannot be traced, in the folder and by its exit code, and leaves no pieces there', async () => {
    const out = join(folder, 'gore');
    const cut = join(folder, 'cut.jpg');
    const { scale } = await json('gore', 'pieces.json');
    const corners = scale.corners_px.map(([x, y]: [number, number]) => [1.6 * (x - 600), 1.6 * y]);
    // The same photo without its left part, which cuts through the gore.
    await sharp(GORE)
      .extract({ left: 600, top: 0, width: 1400, height: 1500 })
      .resize(2240)
      .jpeg()
      .toFile(cut);
    const runsOut = await run(cut, '--out', out, '--sheet', 'a4', '--corners', corners.join(','));
    expect(runsOut).toMatchObject({ code: 8, out: '' });
    expect(runsOut.err).toMatch(/^(The|One) piece of paper runs out of the picture: step back .*\n$/);
    expect(await readdir(out)).toEqual(['refusal.json']);
    expect(await json('gore', 'refusal.json')).toMatchObject({ reason: 'cut-off' });
    const bare = join(folder, 'bare.jpg');
    await sharp(GORE)
      .extract({ left: 20, top: 20, width: 400, height: 400 })
      .resize(2400, 2000)
      .jpeg()
      .toFile(bare);
    const points = await run(bare, '--out', out, '--points', '100,100,1100,100,300mm');
    expect(points).toMatchObject({ code: 7, out: '' });
    expect(await json('gore', 'refusal.json')).toMatchObject({ reason: 'no-paper' });
  });

  it('refuses what cannot be meant, and does nothing', async () => {
    const out = join(folder, 'none');
    expect(await run(GORE, '--out', out, '--outline', 'inside')).toMatchObject({ code: 2 });
    expect(await run(join(folder, 'missing.jpg'), '--out', out)).toMatchObject({ code: 3 });
    expect(await readdir(folder)).not.toContain('pieces.json');
  });
});
