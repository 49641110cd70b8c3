import { fileURLToPath } from 'node:url';
import { median } from './compare.js';
import { sizedScene } from './painted-scenes.js';
import { paintedPhoto } from './photo-cache.js';
import { runMeasure } from './run-measure.js';
import { timedProcess } from './timed-process.js';

const DECODER = fileURLToPath(new URL('decode-only.mjs', import.meta.url));

/** Size of the photo, and what is to be reached at it: the ratio of times, and the largest memory. */
const SIZES = [
  { megapixels: 12, ratio: 5, peakMb: 350 },
  { megapixels: 48, ratio: 3.2, peakMb: 450 },
] as const;

interface Sample {
  readonly seconds: number;
  readonly cpuSeconds?: number | null;
  readonly peakMb: number | null;
}

/**
 * Time of the whole command, all files written, over that of a bare process that only decodes the same photo. The two
 * are run in turn, so that whatever else the machine does falls on both.
 */
export async function benchRatio(runs: number): Promise<void> {
  console.log(`\nThe command against a process that only decodes: medians of ${runs} runs in turn`);
  console.log(
    '              decode s  measure s   ratio   to reach    cpu ratio   decode MB  measure MB   to reach',
  );
  const medians: number[] = [];
  for (const { megapixels, ratio, peakMb } of SIZES) {
    const { photo } = await paintedPhoto(sizedScene(megapixels));
    const decoded: Sample[] = [];
    const measured: Sample[] = [];
    for (let i = 0; i < runs; i++) {
      const bare = await timedProcess([DECODER, photo]);
      const whole = await runMeasure(photo, []);
      if (bare.exitCode !== 0 || whole.exitCode !== 0)
        throw new Error(`${photo}: ${bare.said || whole.said}`);
      decoded.push(bare);
      measured.push(whole);
    }
    const seconds = (list: readonly Sample[]) => median(list.map((sample) => sample.seconds));
    const cpu = (list: readonly Sample[]) => median(list.map((sample) => sample.cpuSeconds ?? Number.NaN));
    const peak = (list: readonly Sample[]) => Math.max(...list.map((sample) => sample.peakMb ?? Number.NaN));
    const show = (value: number, places: number, width: number) =>
      (Number.isNaN(value) ? '-' : value.toFixed(places)).padStart(width);
    medians.push(seconds(measured));
    console.log(
      [
        `${megapixels} MP`.padEnd(12),
        show(seconds(decoded), 2, 10),
        show(seconds(measured), 2, 11),
        show(seconds(measured) / seconds(decoded), 2, 8),
        show(ratio, 1, 11),
        show(cpu(measured) / cpu(decoded), 2, 13),
        show(peak(decoded), 0, 12),
        show(peak(measured), 0, 12),
        show(peakMb, 0, 11),
      ].join(''),
    );
  }
  const [small, large] = SIZES.map(({ megapixels }) => megapixels);
  console.log(
    `growth of the command's time: ${(medians[1] / medians[0]).toFixed(2)} for ${large / small} times the pixels`,
  );
}
