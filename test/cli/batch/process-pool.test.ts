import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { PhotoResult, PhotoTask } from '../../../src/cli/batch/photo-task.js';
import { type PoolOptions, ProcessPool } from '../../../src/cli/batch/process-pool.js';

const folder = await mkdtemp(join(tmpdir(), 'process-pool-'));
afterAll(() => rm(folder, { recursive: true }));

/** Stands in for the command: does what the photo's name says, and answers with its own process id. */
const program = join(folder, 'stand-in.cjs');
await writeFile(
  program,
  `process.on('message', ({ photo }) => {
    if (photo === 'dies') process.exit(7);
    if (photo === 'crashes') process.kill(process.pid, 'SIGSEGV');
    if (photo === 'hangs') for (;;);
    const entry = { sha256: String(process.pid), outcome: 'measured', failure: null, thumbnail: null, facts: null };
    process.send({ entry, model: null, heldBytes: photo === 'grows' ? 1e12 : 1e6 });
  });`,
);

async function results(
  photos: readonly string[],
  options: Partial<PoolOptions> = {},
): Promise<PhotoResult[]> {
  const pool = new ProcessPool({ processes: 1, program, words: [], ...options });
  const tasks = photos.map((photo) => ({ photo }) as PhotoTask);
  const found: PhotoResult[] = [];
  await pool.run(tasks, (index, result) => {
    found[index] = result;
  });
  return found;
}

const processes = (found: readonly PhotoResult[]) => found.map(({ entry }) => entry.sha256);

describe('ProcessPool', { timeout: 30_000 }, () => {
  it('lets one process do many photos, one after another', async () => {
    const served = processes(await results(['a', 'b', 'c']));
    expect(new Set(served).size).toBe(1);
    expect(served).not.toContain(String(process.pid));
  });

  it('leaves no ear on a process for each photo it has done', async () => {
    const warned: string[] = [];
    const onWarning = (warning: Error) => warned.push(warning.message);
    process.on('warning', onWarning);
    await results(Array.from({ length: 25 }, (_, k) => `ticking-${k}`));
    await new Promise((next) => setImmediate(next));
    process.off('warning', onWarning);
    expect(warned).toEqual([]);
  });

  it('works in as many processes as it is told, never in more than there are photos', async () => {
    expect(new Set(processes(await results(['a', 'b', 'c', 'd', 'e', 'f'], { processes: 3 }))).size).toBe(3);
    expect(await results([], { processes: 3 })).toEqual([]);
  });

  it.each([
    ['dies', /ended without a result \(exit code 7\): measure this photo alone/],
    ['crashes', /ended without a result \(SIGSEGV\)/],
  ])('goes on after a process that %s, and says so', async (photo, message) => {
    const found = await results(['a', photo, 'b', 'c']);
    expect(found.map(({ entry }) => entry.outcome)).toEqual(['measured', 'failed', 'measured', 'measured']);
    expect(found[1].entry.failure).toMatchObject({ reason: 'program-failed' });
    expect(found[1].entry.failure!.message).toMatch(message);
    const [before, , after] = processes(found);
    expect(after).not.toBe(before);
  });

  it('ends a process that hangs, and goes on', async () => {
    const found = await results(['hangs', 'b'], { mostMs: 1500 });
    expect(found[0].entry.failure?.reason).toBe('too-long');
    expect(found[1].entry.outcome).toBe('measured');
  });

  it('replaces a process that holds too much memory; its photo is measured', async () => {
    const found = await results(['a', 'grows', 'b']);
    expect(found.map(({ entry }) => entry.outcome)).toEqual(['measured', 'measured', 'measured']);
    const [first, second, third] = processes(found);
    expect(second).toBe(first);
    expect(third).not.toBe(first);
  });

  it('fails every photo, and ends, where no process can be started', async () => {
    const found = await results(['a', 'b'], { program: join(folder, 'missing.cjs') });
    expect(found.map(({ entry }) => entry.failure?.reason)).toEqual(['program-failed', 'program-failed']);
  });
});
