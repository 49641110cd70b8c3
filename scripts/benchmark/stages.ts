import { sizedScene } from './painted-scenes.js';
import { paintedPhoto } from './photo-cache.js';
import { runMeasure } from './run-measure.js';

const MEGAPIXELS = [3, 6, 12, 24];

/** Time of the whole process by pixel count, and by stage where the command tells it. */
export async function benchStages(): Promise<void> {
  console.log('MP      s  s/MP    MB');
  for (const megapixels of MEGAPIXELS) {
    const { photo } = await paintedPhoto(sizedScene(megapixels));
    const run = await runMeasure(photo, []);
    console.log(
      `${String(megapixels).padStart(2)} ${run.seconds.toFixed(2).padStart(6)} ${(run.seconds / megapixels).toFixed(3).padStart(5)} ${(run.peakMb ?? 0).toFixed(0).padStart(5)}`,
    );
  }
}
