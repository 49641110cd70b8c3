import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BandModel, parseBandModel } from '../src/index.js';
import { type CommandRun, runCommand } from './support/command.js';

const inProject = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

const PHOTO = inProject('samples/painted/ticking-metal-rule.jpg');

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'command-'));
});
afterAll(() => rm(folder, { recursive: true }));

const run = (...words: string[]): Promise<CommandRun> => runCommand(folder, words);

const leftOver = async (): Promise<string[]> =>
  (await readdir(folder)).filter((name) => name.startsWith('.') || name.includes('draft'));

describe('stripewright measure', { timeout: 30_000 }, () => {
  it('writes a folder named after the photo and a summary of one screen', async () => {
    const { code, out, err } = await run('measure', PHOTO);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect((await readdir(join(folder, 'ticking-metal-rule'))).sort()).toEqual([
      'bands.csv',
      'bands.json',
      'cloth.png',
      'overlay.png',
      'report.html',
      'swatch.png',
      'swatch.svg',
      'true-size.html',
    ]);
    const lines = out.trimEnd().split('\n');
    expect(lines.length).toBeLessThanOrEqual(23);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
    expect(lines[0]).toMatch(/^Repeat +\d/);
    expect(await leftOver()).toEqual([]);
  });

  it('prints the model alone with --json, and writes nothing', async () => {
    const before = await readdir(folder);
    const { code, out, err } = await run('measure', PHOTO, '--json', '--ruler', 'mm');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const read = await parseBandModel(out);
    expect(read.ok).toBe(true);
    const model = JSON.parse(out) as BandModel;
    expect(model.photo?.file).toBe('ticking-metal-rule.jpg');
    expect(model.cloth).toBeUndefined();
    expect(await readdir(folder)).toEqual(before);
  });

  it('hands on what a person says of the stripes', async () => {
    const hints = ['--region', '900,100,1300,1200', '--direction', '80', '--bands', '6'];
    const { code, out } = await run('measure', PHOTO, '--json', ...hints);
    expect(code).toBe(0);
    const { given } = JSON.parse(out) as BandModel;
    expect(given).toEqual({ direction_deg: 80, region_px: [900, 100, 1300, 1200], bands: 6 });
  });

  it('says nothing with --quiet, and shows the unit asked for in the report only', async () => {
    const result = await run('measure', PHOTO, '--quiet', '--out', 'quiet', '--units', 'inch');
    expect(result).toEqual({ code: 0, signal: null, out: '', err: '' });
    expect(await readFile(join(folder, 'quiet', 'report.html'), 'utf8')).toContain('Width, in');
    const model = JSON.parse(await readFile(join(folder, 'quiet', 'bands.json'), 'utf8')) as BandModel;
    expect(model.units).toBe('mm');
  });

  it.each([
    [[], 2, /./],
    [['measure'], 2, /missing required argument/],
    [['measure', PHOTO, '--colour'], 2, /unknown option/],
    [['measure', PHOTO, '--units', 'ell'], 2, /--units/],
    [['measure', PHOTO, '--ruler', 'cm'], 2, /--ruler: expected/],
    [
      ['measure', PHOTO, '--density', '12', '--ruler', 'mm'],
      2,
      /ruler and density each give the scale.*\(--ruler, --density\)/,
    ],
    [['measure', PHOTO, '--points', '0,0,9e3,9,1in'], 2, /--points/],
    [['measure', PHOTO, '--points', '0,0,99999,9,1in'], 2, /lies outside ticking-metal-rule\.jpg/],
    [['measure', PHOTO, '--region', '9,9,9999,999'], 2, /--region: 9,9,9999,999 reaches outside/],
    [['measure', PHOTO, '--direction', 'up'], 2, /--direction: expected/],
    [['measure', PHOTO, '--bands', '0'], 2, /--bands: expected/],
    [['measure', 'missing.jpg'], 3, /There is no file missing\.jpg: check/],
    [['measure', '.'], 3, /is a folder/],
  ] as const)('%j exits with %i', async (words, code, message) => {
    const before = await readdir(folder);
    const result = await run(...words);
    expect(result.code).toBe(code);
    expect(result.out).toBe('');
    expect(result.err).toMatch(message);
    if (words.length > 0) expect(result.err.trimEnd().split('\n')).toHaveLength(1);
    expect(await readdir(folder)).toEqual(before);
  });

  it('refuses a photo without a scale, and keeps the earlier result', async () => {
    const grey = { width: 2000, height: 1500, channels: 3 as const, background: '#8a8a8a' };
    await sharp({ create: grey }).png({ compressionLevel: 1 }).toFile(join(folder, 'grey.png'));
    await mkdir(join(folder, 'kept'));
    await writeFile(join(folder, 'kept', 'bands.json'), 'earlier');
    const { code, out, err } = await run('measure', 'grey.png', '--out', 'kept');
    expect([4, 5, 6]).toContain(code);
    expect(out).toBe('');
    expect(err).toMatch(/^[^\n]+: [^\n]+\n$/);
    expect(await readdir(join(folder, 'kept'))).toEqual(['bands.json']);
    expect(await readFile(join(folder, 'kept', 'bands.json'), 'utf8')).toBe('earlier');
  });

  it('will not put a folder where a file is', async () => {
    await writeFile(join(folder, 'taken'), 'mine');
    const { code, err } = await run('measure', PHOTO, '--out', 'taken');
    expect(code).toBe(2);
    expect(err).toMatch(/^taken is a file: name a folder for the results \(--out\)\n$/);
    expect(await readFile(join(folder, 'taken'), 'utf8')).toBe('mine');
  });

  it('documents its exit codes and its version', async () => {
    const help = await run('measure', '--help');
    expect(help.code).toBe(0);
    for (const code of [0, 2, 3, 4, 5, 6]) expect(help.out).toMatch(new RegExp(`^ +${code}  `, 'm'));
    const { version } = JSON.parse(await readFile(inProject('package.json'), 'utf8'));
    expect(await run('--version')).toEqual({ code: 0, signal: null, out: `${version}\n`, err: '' });
  });
});
