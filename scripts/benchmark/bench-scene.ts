import type { SceneTruth } from '../../test/support/photo-painter/scene-truth.js';
import { compareWithTruth } from './compare.js';
import type { BenchPhoto } from './photo-cache.js';
import { type MeasureRun, runMeasure } from './run-measure.js';
import type { Row } from './table.js';

const SHEET_FLAGS: Readonly<Record<string, string>> = {
  'sheet-a4': 'a4',
  'sheet-letter': 'letter',
  'card-id1': 'id1',
};

/** What a person would type beside the photo. */
export function flagsFor(truth: SceneTruth): string[] {
  const sheet = truth.reference && SHEET_FLAGS[truth.reference.type];
  return sheet ? ['--sheet', sheet] : [];
}

/** Measures one photo with the real command, so many times; the quickest run counts for the time. */
export async function benchScene({ photo, truth }: BenchPhoto, runs: number): Promise<Row> {
  let best: MeasureRun | null = null;
  for (let i = 0; i < runs; i++) {
    const run = await runMeasure(photo, flagsFor(truth));
    if (!best || run.seconds < best.seconds) best = run;
  }
  if (!best) throw new RangeError(`runs: expected at least 1, received ${runs}`);
  const measured = best.model && truth.expected_outcome === 'measure';
  return {
    truth,
    run: best,
    comparison: measured && best.model ? compareWithTruth(best.model, truth) : null,
  };
}
