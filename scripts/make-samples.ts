/** Paints the photos of samples/painted from their seeds, with the truth beside each. */
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { paintPhoto } from '../test/support/photo-painter/paint-photo.js';
import { writePhoto } from '../test/support/photo-painter/write-photo.js';
import { SAMPLES } from '../test/support/sample-scenes.js';

const folder = fileURLToPath(new URL('../samples/painted/', import.meta.url));
await mkdir(folder, { recursive: true });
for (const { scene, tolerances } of SAMPLES) {
  const base = `${folder}${scene.name}`;
  await writePhoto(scene, paintPhoto(scene), base);
  const truth = JSON.parse(await readFile(`${base}.truth.json`, 'utf8'));
  await writeFile(`${base}.truth.json`, `${JSON.stringify({ ...truth, tolerances }, null, 1)}\n`);
  console.log(`samples/painted/${scene.name}.jpg`);
}
