/** Paints the scenes given as a JSON list on the standard input; started by paint-ahead.ts. */
import { text } from 'node:stream/consumers';
import type { Scene } from '../../test/support/photo-painter/scene.js';
import { paintedPhoto } from './photo-cache.js';

for (const scene of JSON.parse(await text(process.stdin)) as Scene[]) await paintedPhoto(scene);
