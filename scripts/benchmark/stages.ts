import { measureCloth } from '../../src/core/pipeline/measure-cloth.js';
import { readPhoto } from '../../src/node/read-photo.js';
import { sizedScene } from './painted-scenes.js';
import { paintedPhoto } from './photo-cache.js';
import { commandIsBuilt, runMeasure } from './run-measure.js';

const MEGAPIXELS = [3, 6, 12, 24];
/** The quickest counts: the first also compiles the code. */
const RUNS = 3;

type StageTimes = ReadonlyMap<string, number>;

/** Time of each stage and of the whole process by pixel count, and how each grows per pixel. */
export async function benchStages(): Promise<void> {
  const columns: { times: StageTimes; seconds: number | null; peakMb: number | null }[] = [];
  for (const megapixels of MEGAPIXELS) {
    const { photo } = await paintedPhoto(sizedScene(megapixels));
    const run = commandIsBuilt() ? await runMeasure(photo, []) : null;
    columns.push({
      times: await quickest(photo),
      seconds: run?.seconds ?? null,
      peakMb: run?.peakMb ?? null,
    });
  }
  const first = columns[0];
  const last = columns[columns.length - 1];
  const factor = MEGAPIXELS[MEGAPIXELS.length - 1] / MEGAPIXELS[0];
  const show = (name: string, cells: readonly (number | null)[], places: number, growth: number | null) =>
    console.log(
      [
        name.padEnd(22),
        ...cells.map((cell) => (cell === null ? '-' : cell.toFixed(places)).padStart(8)),
        growth === null ? '' : `  x ${growth.toFixed(2)}`,
      ].join(''),
    );
  console.log(
    `${''.padEnd(22)}${MEGAPIXELS.map((mp) => `${mp} MP`.padStart(8)).join('')}  growth (pixels: x ${factor})`,
  );
  for (const stage of first.times.keys()) {
    const cells = columns.map(({ times }) => times.get(stage) ?? null);
    show(`${stage}, ms`, cells, 0, (last.times.get(stage) ?? 0) / (first.times.get(stage) || 1));
  }
  const whole = columns.map(({ seconds }) => seconds);
  const [from, to] = [first.seconds, last.seconds];
  show('whole process, s', whole, 2, from && to ? to / from : null);
  show(
    'peak memory, MB',
    columns.map(({ peakMb }) => peakMb),
    0,
    null,
  );
}

/** Least time of each stage over a few runs in this process, the decoding of the file included. */
async function quickest(photo: string): Promise<StageTimes> {
  const best = new Map<string, number>();
  const note = (stage: string, ms: number) => best.set(stage, Math.min(ms, best.get(stage) ?? ms));
  for (let i = 0; i < RUNS; i++) {
    const started = performance.now();
    const read = await readPhoto(photo);
    if (!read.ok) throw new Error(`${photo}: ${read.refusal.found}`);
    note('reading', performance.now() - started);
    const measured = measureCloth(
      read.value,
      { kind: 'ruler', unit: 'auto' },
      { now: () => performance.now() },
    );
    if (!measured.ok) throw new Error(`${photo}: ${measured.refusal.found}`);
    for (const { stage, ms } of measured.value.stageMs) note(stage, ms);
  }
  return best;
}
