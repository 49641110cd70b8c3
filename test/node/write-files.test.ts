import { spawn } from 'node:child_process';
import { mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { constants, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { UsageError } from '../../src/index.js';
import { writeFiles } from '../../src/node/write-files.js';

let base: string;
beforeEach(async () => {
  base = await mkdtemp(join(tmpdir(), 'write-files-'));
});
afterEach(() => rm(base, { recursive: true, force: true }));

const FILES = ['a', 'b', 'last'].map((name) => ({ name, content: `new ${name}` }));
const contentOf = async (folder: string): Promise<Record<string, string>> => {
  const names = (await readdir(folder)).sort();
  return Object.fromEntries(
    await Promise.all(
      names.map(async (name) => [name, await readFile(join(folder, name), 'utf8').catch(() => 'folder')]),
    ),
  );
};
const NEW = { a: 'new a', b: 'new b', last: 'new last' };

describe('writeFiles', { timeout: 20_000 }, () => {
  it('makes a folder, with those above it, and leaves nothing beside it', async () => {
    await writeFiles(join(base, 'deep', 'down', 'out'), FILES);
    expect(await contentOf(join(base, 'deep', 'down', 'out'))).toEqual(NEW);
    expect(await readdir(join(base, 'deep', 'down'))).toEqual(['out']);
  });

  it('replaces an earlier result, takes away what is stale and leaves the rest alone', async () => {
    const out = join(base, 'out');
    await mkdir(out);
    for (const name of ['a', 'last', 'old', 'mine.txt']) await writeFile(join(out, name), `former ${name}`);
    await writeFiles(out, FILES, ['a', 'old', 'never-there']);
    expect(await contentOf(out)).toEqual({ ...NEW, 'mine.txt': 'former mine.txt' });
    expect(await readdir(base)).toEqual(['out']);
  });

  it('puts everything back when one file cannot be replaced', async () => {
    const out = join(base, 'out');
    await mkdir(join(out, 'last'), { recursive: true });
    for (const name of ['a', 'old']) await writeFile(join(out, name), `former ${name}`);
    await expect(writeFiles(out, FILES, ['old'])).rejects.toThrow();
    expect(await contentOf(out)).toEqual({ a: 'former a', last: 'folder', old: 'former old' });
  });

  it('moves aside what is named, and back when one file cannot be replaced', async () => {
    const out = join(base, 'out');
    await mkdir(join(out, 'drawn'), { recursive: true });
    await writeFile(join(out, 'picture'), 'former picture');
    const aside = [
      { from: 'drawn', to: 'drawn-earlier' },
      { from: 'picture', to: 'kept/picture' },
    ];
    await mkdir(join(out, 'last'));
    await expect(writeFiles(out, FILES, [], aside)).rejects.toThrow();
    const before = { drawn: 'folder', last: 'folder', picture: 'former picture' };
    expect(await contentOf(out)).toEqual(before);
    await rm(join(out, 'last'), { recursive: true });
    await writeFiles(out, FILES, [], aside);
    expect(await contentOf(out)).toEqual({ ...NEW, 'drawn-earlier': 'folder', kept: 'folder' });
    expect(await contentOf(join(out, 'kept'))).toEqual({ picture: 'former picture' });
  });

  it('leaves an earlier result alone when a new file cannot be written', async () => {
    const out = join(base, 'out');
    await writeFiles(out, FILES);
    const bad = [
      ...FILES.map((file) => ({ ...file, content: 'newer' })),
      { name: 'no/such/folder', content: '' },
    ];
    await expect(writeFiles(out, bad)).rejects.toThrow();
    expect(await contentOf(out)).toEqual(NEW);
    await expect(writeFiles(join(base, 'other'), bad)).rejects.toThrow();
    expect(await readdir(base)).toEqual(['out']);
  });

  it('follows a link to a folder', async () => {
    await mkdir(join(base, 'real'));
    await symlink(join(base, 'real'), join(base, 'link'));
    await writeFiles(join(base, 'link'), FILES);
    expect(await contentOf(join(base, 'real'))).toEqual(NEW);
  });

  it('refuses a file in the place of the folder', async () => {
    await writeFile(join(base, 'out'), 'mine');
    await expect(writeFiles(join(base, 'out'), FILES)).rejects.toThrow(UsageError);
    expect(await readFile(join(base, 'out'), 'utf8')).toBe('mine');
  });

  it.each(['SIGINT', 'SIGTERM'] as const)('leaves nothing behind on %s while it writes', async (signal) => {
    const out = join(base, 'out');
    const script = `
      import { writeFiles } from ${JSON.stringify(new URL('../../src/node/write-files.ts', import.meta.url).href)};
      const content = new Uint8Array(1e6);
      const files = Array.from({ length: 400 }, (_, k) => ({ name: 'f' + k, content }));
      await writeFiles(${JSON.stringify(out)}, files);`;
    const tsx = `file://${createRequire(import.meta.url).resolve('tsx')}`;
    const child = spawn(process.execPath, ['--import', tsx, '--input-type=module', '-e', script]);
    const ended = new Promise((done) => child.once('exit', (code, how) => done(how ?? code)));
    while ((await readdir(base)).length === 0) await new Promise((next) => setTimeout(next, 2));
    child.kill(signal);
    expect([signal, 128 + constants.signals[signal]]).toContain(await ended);
    expect(await readdir(base)).toEqual([]);
  });

  it('takes its ear off the signals again', async () => {
    const before = process.listenerCount('SIGINT');
    await writeFiles(join(base, 'out'), FILES);
    expect(process.listenerCount('SIGINT')).toBe(before);
  });
});
