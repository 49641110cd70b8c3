import { existsSync } from 'node:fs';
import {
  copyFile,
  cp,
  mkdir,
  mkdtemp,
  readdir,
  readFile,
  rm,
  stat,
  truncate,
  writeFile,
} from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseBandModel } from '../src/index.js';
import { type CommandRun, runCommand } from './support/command.js';
import { readCsv } from './support/read-csv.js';

const SAMPLES = fileURLToPath(new URL('../samples/painted/', import.meta.url));
const FILES = [
  'bands.csv',
  'bands.json',
  'cloth.png',
  'overlay.png',
  'report.html',
  'swatch.png',
  'swatch.svg',
  'true-size.html',
];
const PHOTOS = ['a/tunic 1.jpg', 'b/tunic 1.jpg', 'b/cut short.jpg', 'missing.jpg'];

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'batch-'));
  await mkdir(join(folder, 'a'));
  await mkdir(join(folder, 'b'));
  await copyFile(`${SAMPLES}ticking-metal-rule.jpg`, join(folder, 'a', 'tunic 1.jpg'));
  await copyFile(`${SAMPLES}balanced-dual-rule.jpg`, join(folder, 'b', 'tunic 1.jpg'));
  await copyFile(`${SAMPLES}shell-wooden-rule.jpg`, join(folder, 'b', 'cut short.jpg'));
  await truncate(join(folder, 'b', 'cut short.jpg'), 200_000);
});
afterAll(() => rm(folder, { recursive: true }));

const run = (...words: string[]): Promise<CommandRun> => runCommand(folder, ['measure', ...words]);

const indexOf = async (path: string): Promise<Record<string, string>[]> => {
  const [heading, ...rows] = readCsv(await readFile(join(folder, path), 'utf8'));
  return rows.map((row) => Object.fromEntries(heading.map((name, k) => [name, row[k]])));
};
const whenWritten = async (path: string): Promise<number> => (await stat(join(folder, path))).mtimeMs;

describe('measuring many photos', { timeout: 120_000 }, () => {
  it('gives each a folder, lists all in an index, and says which failed', async () => {
    const { code, out, err } = await run(...PHOTOS, '--out', 'all');
    expect(code).toBe(1);
    expect(out).toBe('2 of 4 photos measured\nIn all: look at index.html first\n');
    expect(err.trimEnd().split('\n')).toEqual([
      expect.stringMatching(/^b\/cut short\.jpg: cut short\.jpg is damaged or cut short: /),
      expect.stringMatching(/^missing\.jpg: There is no file missing\.jpg: /),
    ]);
    expect((await readdir(join(folder, 'all'))).sort()).toEqual([
      'a-tunic 1',
      'b-tunic 1',
      'cut short',
      'index.csv',
      'index.html',
      'index.json',
    ]);
    for (const name of ['a-tunic 1', 'b-tunic 1']) {
      expect((await readdir(join(folder, 'all', name))).sort()).toEqual(['batch.json', ...FILES].sort());
    }
    const rows = await indexOf('all/index.csv');
    expect(rows.map((row) => row.photo)).toEqual(PHOTOS);
    expect(rows.map((row) => row.folder)).toEqual(['a-tunic 1', 'b-tunic 1', '', '']);
    expect(rows.map((row) => row.reason)).toEqual(['', '', 'unreadable', 'unreadable']);
    // Two different photos of one name, each with its own figures.
    const model = await parseBandModel(
      await readFile(join(folder, 'all', 'b-tunic 1', 'bands.json'), 'utf8'),
    );
    if (!model.ok) throw new Error(model.refusal.found);
    expect(Number(rows[1].repeat_mm)).toBeCloseTo(model.value.repeat.across_mm!, 3);
    expect(rows[0].repeat_mm).not.toBe(rows[1].repeat_mm);
  });

  it('keeps what is done, and measures again what is not', async () => {
    const [kept, gone] = ['all/a-tunic 1/bands.json', 'all/b-tunic 1/bands.json'];
    const before = await whenWritten(kept);
    await rm(join(folder, gone));
    const { code, out } = await run(...PHOTOS, '--out', 'all');
    expect(code).toBe(1);
    expect(out).toMatch(/^2 of 4 photos measured \(2 were done before\)\n/);
    expect(await whenWritten(kept)).toBe(before);
    expect(existsSync(join(folder, gone))).toBe(true);
    expect((await indexOf('all/index.csv')).map((row) => row.outcome)).toEqual([
      'measured',
      'measured',
      'failed',
      'failed',
    ]);
  });

  it('joins shards: the same command without --shard lists all, and measures nothing again', async () => {
    await cp(join(folder, 'all'), join(folder, 'spread'), { recursive: true });
    await rm(join(folder, 'spread', 'index.csv'));
    await rm(join(folder, 'spread', 'b-tunic 1'), { recursive: true });
    const parts = await Promise.all(
      [1, 2].map((part) => run(...PHOTOS, '--out', 'spread', '--shard', `${part}/2`, '--jobs', '1')),
    );
    expect(parts.map(({ code }) => code)).toEqual([0, 1]);
    const listed = await Promise.all([1, 2].map((part) => indexOf(`spread/index-${part}-of-2.csv`)));
    expect(listed.map((rows) => rows.length)).toEqual([2, 2]);
    expect(
      listed
        .flat()
        .map((row) => row.photo)
        .sort(),
    ).toEqual([...PHOTOS].sort());
    const before = await whenWritten('spread/b-tunic 1/bands.json');
    const joined = await run(...PHOTOS, '--out', 'spread');
    expect(joined.out).toMatch(/\(3 were done before\)/);
    expect(await whenWritten('spread/b-tunic 1/bands.json')).toBe(before);
    expect(await indexOf('spread/index.csv')).toEqual(await indexOf('all/index.csv'));
  });

  it('puts one photo right: in its own folder, with options that it keeps, and all in one index', async () => {
    const own = ['--units', 'inch', '--ruler', 'mm'];
    const first = await run(PHOTOS[1], '--out', 'all', ...own);
    expect([first.code, first.err]).toEqual([0, '']);
    expect(first.out).toMatch(/from now on b\/tunic 1\.jpg keeps to --units inch --ruler mm, whatever/);
    expect(await readdir(join(folder, 'all'))).toHaveLength(6);
    expect(await readFile(join(folder, 'all', 'b-tunic 1', 'report.html'), 'utf8')).toContain(
      'Lengths in inches',
    );
    // The index is that of all, in its former order, those that failed among them.
    const rows = await indexOf('all/index.csv');
    expect(rows.map((row) => [row.photo, row.outcome])).toEqual(
      PHOTOS.map((photo, k) => [photo, k < 2 ? 'measured' : 'failed']),
    );
    // A spreadsheet would take a leading dash for a formula.
    expect(rows.map((row) => row.own_options)).toEqual(['', `'${own.join(' ')}`, '', '']);

    const before = await whenWritten('all/b-tunic 1/bands.json');
    const all = await run(...PHOTOS, '--out', 'all');
    expect(all.out).toMatch(/^2 of 4 photos measured \(3 were done before, 1 has options of its own\)/);
    expect(await whenWritten('all/b-tunic 1/bands.json')).toBe(before);

    // What does not work leaves all as it was.
    const failed = await run(PHOTOS[1], '--out', 'all', '--sheet', 'a4');
    expect(failed.code).toBe(4);
    expect(await whenWritten('all/b-tunic 1/bands.json')).toBe(before);
    expect(await indexOf('all/index.csv')).toEqual(rows);
  });

  it('refuses to put one right where no index says what belongs together', async () => {
    await mkdir(join(folder, 'cut short', 'a-tunic 1'), { recursive: true });
    await writeFile(join(folder, 'cut short', 'a-tunic 1', 'batch.json'), '{}');
    const { code, err } = await run(PHOTOS[0], '--out', 'cut short');
    expect(code).toBe(2);
    expect(err).toMatch(/^cut short holds photos that were measured together, and no index of them yet: /);
    expect(await readdir(join(folder, 'cut short'))).toEqual(['a-tunic 1']);
  });

  it('keeps photos of an earlier run in the index, until their folder is taken away', async () => {
    await cp(join(folder, 'all'), join(folder, 'fewer'), { recursive: true });
    const more = await run(PHOTOS[0], PHOTOS[2], '--out', 'fewer');
    expect(more.out).toContain('One photo of an earlier run stays in the index');
    const listed = async () => (await indexOf('fewer/index.csv')).map((row) => row.photo);
    expect(await listed()).toEqual([PHOTOS[0], PHOTOS[2], PHOTOS[1]]);
    await rm(join(folder, 'fewer', 'b-tunic 1'), { recursive: true });
    await run(PHOTOS[0], PHOTOS[2], '--out', 'fewer');
    expect(await listed()).toEqual([PHOTOS[0], PHOTOS[2]]);
  });

  it.each([
    ['a pattern that fits none', 'sash*.jpg', /^No photo fits sash\*\.jpg: /],
    ['a folder without photos', '.', /^\. is a folder without photos: /],
    ['a folder of results', 'all/a-tunic 1', /^all\/a-tunic 1 is a folder without photos: /],
  ])('says so of %s', async (_, word, line) => {
    const { code, out, err } = await run(word, '--out', 'never');
    expect([code, out]).toEqual([3, '']);
    expect(err).toMatch(line);
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(existsSync(join(folder, 'never'))).toBe(false);
  });

  it('prints one JSON line a photo for programs, and writes nothing', async () => {
    const before = await readdir(folder);
    const { code, out, err } = await run(PHOTOS[0], PHOTOS[3], '--json');
    expect(code).toBe(1);
    expect(err).toMatch(/^missing\.jpg: [^\n]*\n$/);
    const lines = out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    lines.sort((a, b) => (a.photo < b.photo ? -1 : 1));
    expect(lines.map((line) => [line.photo, line.outcome])).toEqual([
      [PHOTOS[0], 'measured'],
      [PHOTOS[3], 'failed'],
    ]);
    expect((await parseBandModel(JSON.stringify(lines[0].model))).ok).toBe(true);
    expect(lines[1]).toMatchObject({ model: null, failure: { reason: 'unreadable' } });
    expect(await readdir(folder)).toEqual(before);
  });

  it('gives the model of work done before as well', async () => {
    const { out } = await run(PHOTOS[0], PHOTOS[1], '--json', '--out', 'all');
    const lines = out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(lines.map((line) => line.model.format)).toEqual(Array(2).fill('stripewright.band-model'));
    expect(lines.map((line) => line.folder)).toEqual(['a-tunic 1', 'b-tunic 1']);
  });

  it('says nothing with --quiet but what failed', async () => {
    const { code, out, err } = await run(PHOTOS[2], PHOTOS[3], '--quiet', '--out', 'quiet');
    expect([code, out]).toEqual([1, '']);
    expect(err.trimEnd().split('\n')).toHaveLength(2);
  });

  it('keeps on an interrupt what is done, and leaves nothing half-written', async () => {
    const out = join(folder, 'cut off');
    const words = ['measure', ...PHOTOS.slice(0, 2), '--out', out, '--jobs', '1'];
    const { code, signal, err } = await runCommand(folder, words, async (child) => {
      const first = join(out, 'a-tunic 1', 'batch.json');
      while (!existsSync(first) && child.exitCode === null) await delay(10);
      child.kill('SIGINT');
    });
    expect([code, signal]).toEqual([null, 'SIGINT']);
    expect(err).toMatch(
      /^Interrupted: at least [0-2] of 2 photos done and kept; the same command goes on from there\n$/,
    );
    for (const name of await readdir(out)) {
      expect(name.startsWith('.')).toBe(false);
      expect((await readdir(join(out, name))).includes('batch.json')).toBe(true);
    }
    const again = await runCommand(folder, words);
    expect(again.out).toMatch(/^2 of 2 photos measured \([12] (was|were) done before\)/);
  });

  it.each([
    [['--shard', '3/2'], /^--shard: expected/],
    [['--jobs', 'none'], /^--jobs: expected/],
    [['--memory', '5'], /^--memory: expected/],
    [['--density', '0'], /^--density: expected/],
    [['--out', 'taken'], /^taken is a file/],
  ])('refuses %j before any work', async (words, message) => {
    await writeFile(join(folder, 'taken'), 'mine');
    const { code, err } = await run(...PHOTOS, ...words);
    expect(code).toBe(2);
    expect(err).toMatch(message);
    expect(err.trimEnd().split('\n')).toHaveLength(1);
  });
});
