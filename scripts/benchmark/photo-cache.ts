import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { mkdir, readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { paintPhoto } from '../../test/support/photo-painter/paint-photo.js';
import type { Scene } from '../../test/support/photo-painter/scene.js';
import type { SceneTruth } from '../../test/support/photo-painter/scene-truth.js';
import { writePhoto } from '../../test/support/photo-painter/write-photo.js';

const CACHE = fileURLToPath(new URL('../../out/bench/', import.meta.url));
const PAINTER = fileURLToPath(new URL('../../test/support/photo-painter/', import.meta.url));

export interface BenchPhoto {
  readonly photo: string;
  readonly truth: SceneTruth;
}

/** The scene's photo, painted once for each set of parameters and each version of the painter. */
export async function paintedPhoto(scene: Scene): Promise<BenchPhoto> {
  await mkdir(CACHE, { recursive: true });
  const base = cachedBase(scene);
  if (!isPainted(scene)) await writePhoto(scene, paintPhoto(scene), base);
  return { photo: `${base}.jpg`, truth: JSON.parse(await readFile(`${base}.truth.json`, 'utf8')) };
}

/** The truth is written after the photo: where it is, both are whole. */
export const isPainted = (scene: Scene): boolean => existsSync(`${cachedBase(scene)}.truth.json`);

const cachedBase = (scene: Scene): string =>
  `${CACHE}${scene.name}-${sha256(painterVersion() + JSON.stringify(scene)).slice(0, 12)}`;

let version: string | null = null;

function painterVersion(): string {
  version ??= sha256(
    readdirSync(PAINTER)
      .sort()
      .map((file) => readFileSync(PAINTER + file, 'utf8'))
      .join('\n'),
  );
  return version;
}

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');
