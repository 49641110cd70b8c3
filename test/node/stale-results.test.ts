import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  type BandModel,
  chevronPictures,
  DEFAULT_CHEVRON,
  modelWords,
  previewSeams,
} from '../../src/index.js';
import { sha256OfFile } from '../../src/node/batch-record.js';
import type { PhotoMeasurement } from '../../src/node/measure-photo.js';
import { readModel } from '../../src/node/read-model.js';
import { shrunkPhoto } from '../../src/node/shrunk-photo.js';
import { staleResults } from '../../src/node/stale-results.js';
import { writeChevron } from '../../src/node/write-chevron.js';
import { writeMeasurement } from '../../src/node/write-measurement.js';
import { tickingMeasurement, tickingModel, tickingPhoto } from '../support/ticking-measurement.js';

let base: string;
let out: string;
beforeEach(async () => {
  base = await mkdtemp(join(tmpdir(), 'stale-results-'));
  out = join(base, 'ticking');
});
afterEach(() => rm(base, { recursive: true }));

const photo = { ...tickingPhoto(), file: 'ticking.jpg', sha256: 'ab'.repeat(32), warnings: [] };
const measurementOf = (model: BandModel): PhotoMeasurement => ({
  ...tickingMeasurement(model),
  photo,
  shrunk: shrunkPhoto(photo),
});
const ticking = measurementOf(tickingModel());
const { repeat } = tickingModel();
/** Another cloth, as far as a chevron can tell. */
const other = measurementOf(tickingModel({ repeat: { ...repeat, across_sd_mm: 0.03 } }));

/** One angle and one band, drawn from what lies in `out`. */
async function drawChevron(folder: string) {
  const read = await readModel(out);
  if (!read.ok) throw new Error(read.refusal.found);
  const { model, file, sha256 } = read.value;
  const preview = previewSeams(model, { ...DEFAULT_CHEVRON, angles: [[45, 45]], centres: ['b1'] });
  if (!preview.ok) throw new Error(preview.refusal.found);
  const pictures = chevronPictures(preview.value, null, 'mm', {
    source: modelWords({ file, sha256 }, 'ticking.jpg'),
  });
  return writeChevron(folder, preview.value, pictures, { file, sha256 }, 'model');
}

describe('results of an earlier measurement', { timeout: 20_000 }, () => {
  it('name the model they are of, and stay where they are while it is the same', async () => {
    await writeMeasurement(out, ticking);
    const record = await drawChevron(join(out, 'chevron'));
    const sha256 = await sha256OfFile(join(out, 'bands.json'));
    expect(record.model).toEqual({ file: 'bands.json', sha256 });
    expect(await readFile(join(out, 'report.html'), 'utf8')).toContain(
      `marked bands.json ${sha256.slice(0, 8)}.`,
    );
    const again = await writeMeasurement(out, ticking);
    expect(again.setAside).toEqual([]);
    expect(await readdir(join(out, 'chevron'))).toHaveLength(record.files.length);
  });

  it('are kept under another name once another cloth is measured there, and kept apart each time', async () => {
    await writeMeasurement(out, ticking);
    const { files } = await drawChevron(join(out, 'chevron'));
    await writeFile(join(out, 'chevron', 'notes.txt'), 'mine');
    expect((await writeMeasurement(out, other)).setAside).toEqual(['chevron-earlier']);
    expect(await readdir(out)).not.toContain('chevron');
    expect((await readdir(join(out, 'chevron-earlier'))).sort()).toEqual([...files, 'notes.txt'].sort());

    await drawChevron(join(out, 'chevron'));
    expect((await writeMeasurement(out, ticking)).setAside).toEqual(['chevron-earlier-2']);
    expect((await readdir(out)).filter((name) => name.startsWith('chevron'))).toEqual([
      'chevron-earlier',
      'chevron-earlier-2',
    ]);
  });

  it('are taken out from among the files of the new one where they were drawn there', async () => {
    await writeMeasurement(out, ticking);
    const { files } = await drawChevron(out);
    await writeFile(join(out, 'notes.txt'), 'mine');
    expect((await writeMeasurement(out, other)).setAside).toEqual(['chevron-earlier']);
    expect((await readdir(join(out, 'chevron-earlier'))).sort()).toEqual([...files].sort());
    const left = await readdir(out);
    expect(left).toContain('notes.txt');
    expect(left.filter((name) => files.includes(name))).toEqual([]);
  });

  it.each<[string, unknown, boolean]>([
    ['no hash, as once written', 'bands.json', true],
    ['another hash', { file: 'bands.json', sha256: 'cd'.repeat(32) }, true],
    ['this hash', { file: 'bands.json', sha256: 'ab'.repeat(32) }, false],
    ['a model of another name', { file: 'sash.json', sha256: 'cd'.repeat(32) }, false],
  ])('are told by their record: %s', async (_, model, isStale) => {
    await mkdir(join(out, 'night'), { recursive: true });
    const record = { format: 'stripewright.chevron', model, files: ['../../bands.json', 'chevron.json'] };
    await writeFile(join(out, 'night', 'chevron.json'), JSON.stringify(record));
    const found = await staleResults(out, 'ab'.repeat(32));
    const moves = [{ from: 'night', to: 'night-earlier' }];
    expect(found).toEqual(isStale ? [{ keptIn: 'night-earlier', moves }] : []);
  });

  it('move no file that a damaged record names but this program never writes', async () => {
    await mkdir(out);
    const files = ['../secret.png', 'notes.txt', 'chevron-60-b1.png', 'gone.svg'];
    const record = { format: 'stripewright.chevron', model: 'bands.json', files };
    await writeFile(join(out, 'chevron.json'), JSON.stringify(record));
    for (const name of ['notes.txt', 'chevron-60-b1.png']) await writeFile(join(out, name), '');
    const [{ moves }] = await staleResults(out, null);
    expect(moves.map(({ from }) => from)).toEqual(['chevron-60-b1.png', 'chevron.json']);
  });
});
