import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import {
  type RecordedEntry,
  readBatchRecord,
  sha256OfFile,
  writeBatchRecord,
} from '../../src/node/batch-record.js';

const base = await mkdtemp(join(tmpdir(), 'batch-record-'));
afterAll(() => rm(base, { recursive: true }));

const photo = join(base, 'ticking.jpg');
const folder = join(base, 'ticking');
const setting = { program: '1.2.3', options: { units: 'mm', ruler: 'inch' } };
const refused = { reason: 'no-scale', message: 'No ruler found' } as const;
const entryOf = (sha256: string): RecordedEntry => ({
  sha256,
  outcome: 'measured',
  failure: null,
  thumbnail: null,
  facts: null,
});

beforeEach(async () => {
  await rm(folder, { recursive: true, force: true });
  await writeFile(photo, 'abc');
  const entry = entryOf(await sha256OfFile(photo));
  await writeBatchRecord(folder, setting, entry, []);
  await writeFile(join(folder, 'bands.json'), '{}');
  await writeBatchRecord(folder, setting, entry, ['bands.json']);
});

describe('the record of work done', () => {
  it('is known again, in whatever order the options come', async () => {
    // SHA-256 of "abc": FIPS 180-2, appendix B.1.
    const sha256 = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
    expect((await readBatchRecord(folder, () => setting, photo)).entry).toEqual(entryOf(sha256));
    const turned = { ...setting, options: { ruler: 'inch', units: 'mm' } };
    expect((await readBatchRecord(folder, () => turned, photo)).entry).not.toBeNull();
  });

  it.each<[string, () => Promise<unknown> | null, Partial<typeof setting>]>([
    ['other bytes in the photo', () => writeFile(photo, 'abd'), {}],
    ['another version', () => null, { program: '1.2.4' }],
    ['other options', () => null, { options: { units: 'mm', ruler: 'mm' } }],
    ['a file gone', () => rm(join(folder, 'bands.json')), {}],
    ['a file cut short', () => writeFile(join(folder, 'bands.json'), '{'), {}],
    ['a damaged record', () => writeFile(join(folder, 'batch.json'), '{"format":'), {}],
    ['a record of something else', () => writeFile(join(folder, 'batch.json'), '[]'), {}],
    ['no photo', () => rm(photo), {}],
  ])('is not taken with %s', async (_, change, other) => {
    await change();
    expect((await readBatchRecord(folder, () => ({ ...setting, ...other }), photo)).entry).toBeNull();
  });

  it('keeps what was given for the photo alone, until the photo is another one', async () => {
    const own = { region: '0,0,900,900' };
    const entry = entryOf(await sha256OfFile(photo));
    await writeBatchRecord(folder, { ...setting, options: { ...setting.options, ...own }, own }, entry, [
      'bands.json',
    ]);
    const settingOf = (given: object | null) => ({ ...setting, options: { ...setting.options, ...given } });
    expect(await readBatchRecord(folder, settingOf, photo)).toEqual({ own, lost: null, entry });
    await writeFile(photo, 'abd');
    expect(await readBatchRecord(folder, settingOf, photo)).toEqual({ own: null, lost: own, entry: null });
  });

  it('of a refused photo leaves no earlier result, and no file of other names goes', async () => {
    await writeFile(join(folder, 'notes.txt'), 'mine');
    const entry = { ...entryOf(await sha256OfFile(photo)), outcome: 'failed', failure: refused } as const;
    await writeBatchRecord(folder, setting, entry, []);
    expect((await readdir(folder)).sort()).toEqual(['batch.json', 'notes.txt']);
    expect((await readBatchRecord(folder, () => setting, photo)).entry).toEqual(entry);
    expect(await readFile(join(folder, 'notes.txt'), 'utf8')).toBe('mine');
  });
});
