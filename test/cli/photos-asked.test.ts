import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { photosAsked } from '../../src/cli/photos-asked.js';

let base: string;
beforeAll(async () => {
  base = await mkdtemp(join(tmpdir(), 'photos-asked-'));
  for (const folder of ['tunics', 'tunics/old', 'tunics/measured', 'sashes', 'result', 'none']) {
    await mkdir(join(base, folder));
  }
  const files = [
    'tunics/b.jpg',
    'tunics/a.HEIC',
    'tunics/c [2].jpeg',
    'tunics/.hidden.jpg',
    'tunics/notes.txt',
    'tunics/old/d.jpg',
    'tunics/measured/overlay.png',
    'tunics/measured/bands.json',
    'sashes/b.png',
    'result/bands.json',
    'result/cloth.png',
    'result/chevron.json',
    'result/chevron-45-b1.png',
    'result/photo.png',
    'what?.jpg',
  ];
  for (const file of files) await writeFile(join(base, file), '');
});
afterAll(() => rm(base, { recursive: true }));

const asked = async (...words: string[]) => {
  const found = await photosAsked(words.map((word) => join(base, word)));
  return { ...found, photos: found.photos.map((path) => relative(base, path)) };
};

describe('the photos that were asked for', () => {
  it.each<[string, string, string[]]>([
    [
      'of a folder, by their endings, sorted, not of folders inside it',
      'tunics',
      ['a.HEIC', 'b.jpg', 'c [2].jpeg'],
    ],
    ['of a pattern', 'tunics/*.jpg', ['b.jpg']],
    ['of a pattern, in letters of either case', 'tunics/A.hei?', ['a.HEIC']],
    ['of a pattern with a class', 'tunics/[!ac]*.jp*g', ['b.jpg']],
    ['of a pattern with a range', 'tunics/[a-b].*', ['a.HEIC', 'b.jpg']],
    ['of a pattern in which a dot is a dot', 'tunics/c?[[]2]?jpeg', ['c [2].jpeg']],
  ])('are those %s', async (_, word, names) => {
    const { photos, empty } = await asked(word);
    expect(photos).toEqual(names.map((name) => join('tunics', name)));
    expect(empty).toEqual([]);
  });

  it('may lie in several folders', async () => {
    expect((await asked('*s/b.*')).photos).toEqual(
      ['sashes/b.png', 'tunics/b.jpg'].map((path) => join(path)),
    );
  });

  it('are files by their names first, whatever these hold, and names of nothing as they are', async () => {
    expect((await asked('what?.jpg', 'gone.jpg')).photos).toEqual(['what?.jpg', 'gone.jpg']);
  });

  it('are never the pictures of a result', async () => {
    expect((await asked('result')).photos).toEqual([join('result', 'photo.png')]);
    expect((await asked('tunics/*/*')).photos).toEqual([join('tunics', 'old', 'd.jpg')]);
  });

  it('are told where there are none', async () => {
    const found = await asked('none', 'tunics/*.webp', 'tunics/[z-a].jpg', 'sashes');
    expect(found.empty.map((path) => relative(base, path))).toEqual([
      'none',
      join('tunics', '*.webp'),
      join('tunics', '[z-a].jpg'),
    ]);
    expect([found.byFolder, (await asked('tunics/*.jpg')).byFolder]).toEqual([true, false]);
  });
});
