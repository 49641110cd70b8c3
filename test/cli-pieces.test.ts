import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type CommandRun, runCommand } from './support/command.js';
import { dxfFile, line, polyline } from './support/pieces/dxf-text.js';

const PROJECT = fileURLToPath(new URL('..', import.meta.url));
const TUNIC = fileURLToPath(new URL('../samples/pieces/tunic.svg', import.meta.url));
let folder: string;

/** The real command as a child process. */
const run = (...args: string[]): Promise<CommandRun> => runCommand(PROJECT, ['pieces', ...args]);
const file = async (name: string, text: string): Promise<string> => {
  await writeFile(join(folder, name), text);
  return join(folder, name);
};

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'pieces-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('pieces', () => {
  it('writes the picture and all three forms, which it reads again', async () => {
    const out = join(folder, 'tunic');
    const first = await run(TUNIC, '--out', out, '--dxf', '--units', 'inch');
    expect(first).toMatchObject({ code: 0, err: '' });
    expect(first.out).toMatch(/^6 pieces, 10 to cut\nfront: 13 3\/4 in x 30 5\/16 in, cut 2 \(1 mirrored\)/);
    expect((await readdir(out)).sort()).toEqual([
      'overview.png',
      'overview.svg',
      'pieces.dxf',
      'pieces.json',
      'pieces.svg',
    ]);
    const { width, density } = await sharp(join(out, 'overview.png')).metadata();
    expect(width).toBe(2100);
    expect(density).toBe(127);
    const again = await run(join(out, 'pieces.dxf'), '--json');
    expect(again).toMatchObject({ code: 0, err: '' });
    const [piece] = JSON.parse(again.out).pieces;
    expect(piece.seams).toEqual(JSON.parse(await readFile(join(out, 'pieces.json'), 'utf8')).pieces[0].seams);
    expect(await run(join(out, 'pieces.json'), '--out', out)).toMatchObject({ code: 2, out: '' });
  });

  it('says by its exit code why a file is no good, and writes nothing', async () => {
    const square = polyline('1', [
      [0, 0],
      [90, 0],
      [90, 90],
      [0, 90],
    ]);
    const unitless = await file('unitless.dxf', dxfFile(null, [], [square, line('7', [40, 10], [40, 80])]));
    const out = join(folder, 'none');
    const noScale = await run(unitless, '--out', out);
    expect(noScale).toMatchObject({ code: 4, out: '' });
    expect(noScale.err).toMatch(/^unitless\.dxf: .*\$INSUNITS is missing.* \(--file-unit\)\n$/);
    const crossed = await file(
      'crossed.json',
      JSON.stringify({
        format: 'stripewright.pieces',
        version: 1,
        units: 'mm',
        pieces: [
          {
            id: 'gore',
            stitching: [
              [0, 0],
              [9, 9],
              [9, 0],
              [0, 7],
            ],
            grain: [
              [1, 1],
              [1, 5],
            ],
          },
        ],
      }),
    );
    const bad = await run(crossed, '--out', out);
    expect(bad.code).toBe(3);
    expect(bad.err).toMatch(
      /^crossed\.json: piece "gore": its stitching line crosses or touches itself at .*\n$/,
    );
    const misuse = await run(TUNIC, '--size', '38', '--out', out);
    expect(misuse).toMatchObject({ code: 2, out: '' });
    expect(misuse.err).toMatch(/^--size: says how to read DXF, and tunic\.svg is SVG\n$/);
    expect(await readdir(folder)).not.toContain('none');
  });
});
