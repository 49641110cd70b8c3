import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Command } from 'commander';
import sharp from 'sharp';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { registerChevron } from '../src/cli/chevron.js';
import { withOptions } from '../src/cli/option-words.js';
import { UsageError } from '../src/core/base/outcome.js';
import { raster } from '../src/core/raster/raster.js';
import { type CommandRun, runCommand } from './support/command.js';
import { tickingModel } from './support/seam/models.js';
import { crossingsAtSeam } from './support/seam/read-crossings.js';

const PROJECT = fileURLToPath(new URL('..', import.meta.url));
const SAMPLE = fileURLToPath(new URL('../samples/ticking.bands.json', import.meta.url));
let folder: string;

/** The real command as a child process. */
const run = (...args: string[]): Promise<CommandRun> => runCommand(PROJECT, ['chevron', ...args]);

const typed = async (name: string, change: (model: Record<string, unknown>) => unknown): Promise<string> => {
  const path = join(folder, name);
  const changed = change(structuredClone(tickingModel()) as unknown as Record<string, unknown>);
  await writeFile(path, typeof changed === 'string' ? changed : JSON.stringify(changed));
  return path;
};

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'chevron-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('chevron', () => {
  it('writes pictures, sheet and record, and takes away what an earlier run left', async () => {
    const out = join(folder, 'run');
    const first = await run(SAMPLE, '--out', out, '--angles', '30,45/38', '--centre', 'b3,b1');
    expect(first).toMatchObject({ code: 0, err: '' });
    expect(first.out).toMatch(/^Unbalanced stripes/);
    const seams = ['chevron-30-b3', 'chevron-30-b1', 'chevron-45-38-b3', 'chevron-45-38-b1'];
    const rest = ['chevron-sheet', 'chevron-lay', 'chevron-30-b1-finished'];
    const expected = [...seams, ...rest].flatMap((name) => [`${name}.png`, `${name}.svg`]);
    const pages = ['chevron.html', 'chevron.json'];
    expect((await readdir(out)).sort()).toEqual([...expected, ...pages].sort());

    const record = JSON.parse(await readFile(join(out, 'chevron.json'), 'utf8'));
    expect([...record.files].sort()).toEqual([...expected, ...pages].sort());
    expect(record.seams.map((seam: { picture: { png: string } }) => seam.picture.png)).toEqual(
      seams.map((name) => `${name}.png`),
    );

    await writeFile(join(out, 'notes.txt'), 'mine');
    expect((await run(SAMPLE, '--out', out, '--angles', '60', '--centre', 'ochre', '--quiet')).out).toBe('');
    const left = await readdir(out);
    expect(left).toContain('notes.txt');
    expect(left).toContain('chevron-60-b3.png');
    expect(left.filter((name) => name.includes('30') || name.includes('45'))).toEqual([]);
    expect(left.filter((name) => name.startsWith('.'))).toEqual([]);
  }, 30_000);

  it('draws the PNG and the SVG to the same true size, crossings where the record says', async () => {
    const out = join(folder, 'true');
    await run(SAMPLE, '--out', out, '--angles', '45', '--centre', 'b3', '--seam', '300mm', '--shift', '2mm');
    const path = join(out, 'chevron-45-b3.png');
    const { density, width, height } = await sharp(path).metadata();
    const svg = await readFile(join(out, 'chevron-45-b3.svg'), 'utf8');
    const [, widthMm, heightMm] = / width="([\d.]+)mm" height="([\d.]+)mm"/.exec(svg) as RegExpExecArray;
    const pxPerMm = width / Number(widthMm);
    expect(height / Number(heightMm)).toBeCloseTo(pxPerMm, 2);
    // PNG keeps density in whole px per metre.
    expect(Math.abs((density as number) / 25.4 - pxPerMm)).toBeLessThan(0.05);
    expect(pxPerMm).toBeCloseTo(660 / 300, 6);

    const { data, info } = await sharp(path).raw().toBuffer({ resolveWithObject: true });
    const page = raster(info.width, info.height, info.channels, new Uint8Array(data));
    const record = JSON.parse(await readFile(join(out, 'chevron.json'), 'utf8'));
    const model = tickingModel();
    const palette = model.colours.map(
      ({ srgb }) =>
        [1, 3, 5].map((i) => Number.parseInt(srgb.slice(i, i + 2), 16)) as [number, number, number],
    );
    // The seam: drawn in the SVG as the halves' common edge.
    const frame = /<polygon points="([^"]+)"/.exec(svg) as RegExpExecArray;
    const corners = frame[1].split(' ').map((point) => point.split(',').map(Number));
    const seamX = Math.max(...corners.map(([x]) => x)) * pxPerMm;
    const topY = Math.min(...corners.map(([, y]) => y)) * pxPerMm;
    expect(seamX).toBeCloseTo(Math.round(seamX), 1);
    const column = Math.round(seamX);
    let found = 0;
    for (const side of ['left', 'right'] as const) {
      const away = side === 'left' ? -1 : 1;
      const [near, far] = [column + away * 60, column + away * 70];
      const read = crossingsAtSeam(page, column, near, far, palette, -away);
      for (const c of record.seams[0].crossings) {
        const y = topY + c[`${side}_mm`] * pxPerMm;
        if (read.some((one) => Math.abs(one.y - y) < 0.5)) found++;
      }
    }
    // Lettering, the frame of the chosen band and the picture's own border hide a few.
    expect(found).toBeGreaterThan(0.6 * 2 * record.seams[0].crossings.length);
  }, 30_000);

  it('prints the record alone with --json, and writes nothing', async () => {
    const { code, out, err } = await run(
      SAMPLE,
      '--json',
      '--inverted',
      '--shift',
      '-3mm',
      '--lay',
      'wrong-side',
    );
    expect([code, err]).toEqual([0, '']);
    const record = JSON.parse(out);
    expect(record).toMatchObject({ from: null, files: [], lay: { chosen: 'wrong-side' } });
    expect(record.seam).toMatchObject({ point: 'up', shift_mm: -3 });
  }, 20_000);

  it('draws cloth typed in one line, and keeps its model beside the pictures', async () => {
    const out = join(folder, 'typed-cloth');
    const line = 'indigo 14, ivory 9mm, ochre 4 two-way';
    const first = await run('--cloth', line, '--angles', '45', '--centre', 'ochre', '--out', out);
    expect(first).toMatchObject({ code: 0, err: '' });
    expect(first.out).toMatch(
      /^As typed: indigo 14\.0 mm, ivory 9\.0 mm, ochre 4\.0 mm; repeat 27\.0 mm, two-way\./,
    );
    const kept = await readFile(join(out, 'typed-cloth.json'));
    const record = JSON.parse(await readFile(join(out, 'chevron.json'), 'utf8'));
    expect(record.model).toEqual({
      file: 'typed-cloth.json',
      sha256: createHash('sha256').update(kept).digest('hex'),
    });
    expect([...record.files].sort()).toEqual((await readdir(out)).sort());
    expect(record.bands.map((band: { width_mm: number }) => band.width_mm)).toEqual([14, 9, 4]);

    // The kept model gives the same answer; drawn from a file, nothing is left of the typed one.
    const again = await run(join(out, 'typed-cloth.json'), '--angles', '45', '--centre', 'ochre', '--json');
    expect(JSON.parse(again.out)).toEqual({ ...record, from: null, files: [], seams: expect.any(Array) });
    await run(SAMPLE, '--out', out, '--angles', '45', '--centre', 'b3', '--quiet');
    expect(await readdir(out)).not.toContain('typed-cloth.json');
  }, 60_000);

  it('takes a model or a typed cloth, and says which part of a typed cloth is wrong', async () => {
    const [neither, both, wrong, joined] = await Promise.all([
      run(),
      run(SAMPLE, '--cloth', 'indigo 14, ivory 9'),
      run('--cloth', 'indigo 14, ivroy 9'),
      run('--cloth', 'indigo 8, ivory 9, indigo 6', '--angles', '45', '--json'),
    ]);
    expect([neither.code, both.code, wrong.code, joined.code]).toEqual([2, 2, 2, 0]);
    expect(neither.err).toMatch(/^expected a bands\.json.*--cloth.*received neither\n$/);
    expect(both.err).toMatch(/received both\n$/);
    expect(wrong.err).toMatch(/^--cloth: expected .*"indigo 14, ivory 9, ochre 4".*is it ivory\?\n$/);
    expect(joined.err).toMatch(/^Bands of one colour .*indigo 14, ivory 9/);
    expect(JSON.parse(joined.out)).toMatchObject({ repeat_mm: 23, symmetry: { balanced: true } });
  }, 60_000);

  it('leaves with 2 and one line for wrong use, with 3 for a model that is not there', async () => {
    const wrong = await run(SAMPLE, '--out', join(folder, 'never'), '--lay', 'same-way');
    expect(wrong).toMatchObject({ code: 2, out: '' });
    expect(wrong.err).toMatch(
      /^--lay: same-way is not allowed here\. The stripes do not read the same backwards.*anyway \(--anyway\)\n$/,
    );
    const missing = await run(join(folder, 'nowhere'));
    expect(missing).toMatchObject({ code: 3, out: '' });
    expect(missing.err).toMatch(/^There is no file .*nowhere: give a bands\.json.*\n$/);
    await expect(readdir(join(folder, 'never'))).rejects.toThrow();
  }, 20_000);
});

describe('chevron, called within the process', () => {
  afterEach(() => {
    vi.restoreAllMocks();
    process.exitCode = undefined;
  });

  /** What the command says on stderr or throws, and how it would leave. */
  async function complaint(...args: string[]): Promise<{ code: unknown; line: string }> {
    const written: string[] = [];
    vi.spyOn(process.stderr, 'write').mockImplementation((text) => written.push(String(text)) > 0);
    const program = new Command().exitOverride();
    registerChevron(program);
    try {
      await program.parseAsync(['node', 'stripewright', 'chevron', ...args, '--out', join(folder, 'never')]);
    } catch (error) {
      if (!(error instanceof UsageError)) throw error;
      return { code: 2, line: withOptions(error) };
    }
    return { code: process.exitCode, line: written.join('') };
  }

  it.each<[string, string[], number, RegExp]>([
    ['an angle of nought', ['--angles', '0'], 2, /^--angles: expected degrees above 0 and up to 90/],
    ['an angle over 90', ['--angles', '30,91'], 2, /^--angles: /],
    ['no angle', ['--angles', 'steep'], 2, /^--angles: .*received "steep"/],
    ['three sides', ['--angles', '30/40/50'], 2, /^--angles: /],
    ['an unknown band', ['--centre', 'b7'], 2, /^--centre: there is no band "b7"/],
    ['a colour of several bands', ['--centre', 'indigo'], 2, /^--centre: 2 bands are indigo/],
    ['a seam of nought', ['--seam', '0mm'], 2, /^--seam: expected 10 mm to 10 m/],
    ['a seam without a unit', ['--seam', '400'], 2, /^--seam: expected a length with its unit/],
    ['an absurd seam', ['--seam', '900m'], 2, /^--seam: /],
    ['a ring off the seam', ['--at', '-5mm'], 2, /^--at: expected a place on the seam/],
    ['an unknown lay', ['--lay', 'upside-down'], 2, /^--lay: expected same-way, head-to-tail/],
    [
      'cloth that is not there',
      ['--from', 'cloth'],
      3,
      /^ticking\.bands\.json has no picture of the cloth beside it/,
    ],
  ])('has one clear line for %s', async (_, args, code, line) => {
    const found = await complaint(SAMPLE, ...args);
    expect(found.code).toBe(code);
    expect(found.line).toMatch(line);
    expect(found.line.trim().split('\n')).toHaveLength(1);
    await expect(readdir(join(folder, 'never'))).rejects.toThrow();
  });

  it.each<[string, (model: Record<string, unknown>) => unknown, RegExp]>([
    ['not JSON', () => '{ "format": ', /^bad\.bands\.json: .*not JSON/],
    ['of the wrong kind', (m) => ({ ...m, bands: 'six' }), /^bad\.bands\.json: bands is .*expected/],
    [
      'without a repeat',
      (m) => ({ ...m, repeat: { ...(m.repeat as object), across_mm: null } }),
      /^bad\.bands\.json: The model has no repeat/,
    ],
  ])('has one clear line for a model that is %s', async (_, change, line) => {
    const found = await complaint(await typed('bad.bands.json', change));
    expect(found.code).toBe(3);
    expect(found.line).toMatch(line);
    expect(found.line.trim().split('\n')).toHaveLength(1);
  });
});
