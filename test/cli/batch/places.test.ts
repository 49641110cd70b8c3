import { mkdir, mkdtemp, realpath, rename, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Place, placesOf } from '../../../src/cli/batch/places.js';
import { type BatchList, sha256OfFile } from '../../../src/node.js';

let base: string;
let photos: string[];
beforeEach(async () => {
  base = await realpath(await mkdtemp(join(tmpdir(), 'places-')));
  photos = ['day', 'night'].map((folder) => join(base, folder, 'tunic.jpg'));
  for (const photo of photos) {
    await mkdir(join(photo, '..'));
    await writeFile(photo, photo);
  }
  await mkdir(join(base, 'catalogue'));
});
afterEach(() => rm(base, { recursive: true }));

const catalogue = () => join(base, 'catalogue');
const listOf = async (places: readonly Place[]): Promise<BatchList> => ({
  options: {},
  photos: await Promise.all(
    places.map(async ({ photo, from, name }) => ({
      photo,
      from,
      folder: name,
      sha256: await sha256OfFile(photo),
      outcome: 'measured' as const,
      failure: null,
    })),
  ),
});

describe('where the results of many photos belong', () => {
  it('is a folder each, and one photo once, whatever it is called by', async () => {
    await symlink(photos[0], join(base, 'link.jpg'));
    const { places } = await placesOf([...photos, join(base, 'link.jpg')], catalogue(), null);
    expect(places.map(({ from, name }) => [from, name])).toEqual([
      ['../day/tunic.jpg', 'day-tunic'],
      ['../night/tunic.jpg', 'night-tunic'],
    ]);
  });

  it('stays the same when a photo of the same name joins later', async () => {
    const first = await placesOf([photos[0]], catalogue(), null);
    expect(first.places[0].name).toBe('tunic');
    const list = await listOf(first.places);
    const both = await placesOf(photos, catalogue(), list);
    expect(both.places.map((place) => place.name)).toEqual(['tunic', 'night-tunic']);
    const alone = await placesOf([photos[1]], catalogue(), list);
    expect(alone.places[0].name).toBe('night-tunic');
    expect(alone.others).toEqual(list.photos);
  });

  it('stays the same for a photo that was renamed, not for a copy of one that is still there', async () => {
    const { places } = await placesOf([photos[0]], catalogue(), null);
    const list = await listOf(places);
    const renamed = join(base, 'sash.jpg');
    await writeFile(renamed, photos[0]);
    expect((await placesOf([renamed], catalogue(), list)).places[0].name).toBe('sash');
    await rename(photos[0], renamed);
    const after = await placesOf([renamed], catalogue(), list);
    expect(after.places[0]).toEqual({ photo: renamed, from: '../sash.jpg', name: 'tunic' });
    expect(after.others).toEqual([]);
  });

  it('is known for a photo that is missing now', async () => {
    const { places } = await placesOf(photos, catalogue(), null);
    const list = await listOf(places);
    await rm(photos[1]);
    const { places: again, others } = await placesOf([photos[1]], catalogue(), list);
    expect([again[0].name, others.length]).toEqual(['night-tunic', 1]);
  });
});
