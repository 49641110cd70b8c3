import { describe, expect, it } from 'vitest';
import { folderNames } from '../../../src/cli/batch/folder-names.js';

describe('folderNames', () => {
  it.each([
    [
      ['ticking.jpg', 'shell.heic'],
      ['ticking', 'shell'],
    ],
    [
      ['a/1.jpg', 'b/1.jpg', 'b/2.jpg'],
      ['a-1', 'b-1', '2'],
    ],
    [
      ['x/a/1.jpg', 'y/a/1.jpg'],
      ['x-a-1', 'y-a-1'],
    ],
    [
      ['1.jpg', '1.png'],
      ['1.jpg', '1.png'],
    ],
    [
      ['a/T.jpg', 'b/t.JPG'],
      ['a-T', 'b-t'],
    ],
    [
      ['index.html.jpg', 'index.csv.png'],
      ['index.html.jpg', 'index.csv.png'],
    ],
    [
      ['.hidden', '..jpg'],
      ['_hidden', '_'],
    ],
    [
      ['tunic "front"\n.jpg', 'what?.png'],
      ['tunic _front__', 'what_'],
    ],
  ])('%j give %j', (photos, names) => {
    expect(folderNames(photos)).toEqual(names);
  });

  it('gives different names whatever the paths, and the same in any order', () => {
    // Few letters, so that clashes abound.
    const parts = ['a', 'A', 'a-b', 'b', 'a.b', ' ', 'index.csv'];
    const paths = parts.flatMap((x) =>
      parts.flatMap((y) => [`${x}/${y}.jpg`, `${x}/${y}.png`, `/${y}/${x}.jpg`, `${x}/${y}/${y}.jpg`]),
    );
    const once = [...new Set(paths)];
    const names = folderNames(once);
    expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(once.length);
    for (const name of names) {
      expect(name).not.toMatch(/[/\\\n"]|^[.\s]|[.\s]$|^$/);
      expect(name).not.toMatch(/^index\.(csv|html)$/i);
    }
    const turned = folderNames([...once].reverse()).reverse();
    expect(turned).toEqual(names);
  });
});
