import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Scene } from '../../test/support/photo-painter/scene.js';
import { isPainted } from './photo-cache.js';

const WORKER = fileURLToPath(new URL('paint-worker.ts', import.meta.url));
const WORKERS = 2;

/** Paints what is not in the cache yet, in processes of their own, before anything is timed. */
export async function paintAhead(scenes: readonly Scene[]): Promise<void> {
  const due = scenes.filter((scene) => !isPainted(scene));
  if (due.length === 0) return;
  console.log(`painting ${due.length} photos`);
  const shares = Array.from({ length: Math.min(WORKERS, due.length) }, (_, w) =>
    due.filter((_scene, i) => i % WORKERS === w),
  );
  await Promise.all(shares.map(paintShare));
}

function paintShare(scenes: readonly Scene[]): Promise<void> {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [...process.execArgv, WORKER], {
      stdio: ['pipe', 'inherit', 'inherit'],
    });
    child.on('error', fail);
    child.on('close', (code) => (code === 0 ? done() : fail(new Error(`a painter ended with code ${code}`))));
    child.stdin.end(JSON.stringify(scenes));
  });
}
