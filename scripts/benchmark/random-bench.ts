import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import type { Scene } from '../../test/support/photo-painter/scene.js';
import { flagsFor } from './bench-scene.js';
import { describeScene } from './describe-scene.js';
import { paintAhead } from './paint-ahead.js';
import { paintedPhoto } from './photo-cache.js';
import { randomScenes } from './random/scenes.js';
import { runMeasure } from './run-measure.js';
import { type Score, scoreOf } from './score.js';
import { groupTable, scoreHead, scoreRow, worstScenes } from './score-table.js';

export interface RandomBench {
  readonly count: number;
  readonly seed: number;
  /** Scenes whose name matches. */
  readonly only: RegExp;
}

/** Measures scenes of randomly drawn conditions and prints their table and totals. */
export async function benchRandom({ count, seed, only }: RandomBench): Promise<Score[]> {
  const scenes = randomScenes(count, seed).filter(({ name }) => only.test(name));
  await paintAhead(scenes);
  console.log(`\nDrawn scenes, seed ${seed}\n${scoreHead()}`);
  const scores: Score[] = [];
  for (const scene of scenes) {
    const score = await scoreScene(scene);
    scores.push(score);
    console.log(scoreRow(score));
  }
  if (scores.length === 0) console.log('no scene of that name');
  else printTotals(scores);
  return scores;
}

async function scoreScene(scene: Scene): Promise<Score> {
  const { photo, truth } = await paintedPhoto(scene);
  return scoreOf(truth, await runMeasure(photo, flagsFor(truth)), describeScene(scene));
}

export function printTotals(scores: readonly Score[]): void {
  console.log(`\n${groupTable(scores).join('\n')}`);
  console.log(`\nThe worst scenes\n${worstScenes(scores, 3).join('\n')}`);
}

export async function saveScores(file: string, scores: readonly Score[]): Promise<void> {
  await mkdir(dirname(file), { recursive: true });
  await writeFile(file, `${JSON.stringify(scores, null, 1)}\n`);
}

export const readScores = async (file: string): Promise<Score[]> =>
  JSON.parse(await readFile(file, 'utf8')) as Score[];

/** Totals before and after over the scenes that both runs have, and the scenes that became better or worse. */
export function printComparison(before: readonly Score[], after: readonly Score[]): void {
  const names = new Set(after.map(({ name }) => name));
  const shared = before.filter(({ name }) => names.has(name));
  const kept = new Set(shared.map(({ name }) => name));
  const now = after.filter(({ name }) => kept.has(name));
  console.log(`\nBefore (${shared.length} scenes in both)\n${groupTable(shared).join('\n')}`);
  console.log(`\nAfter\n${groupTable(now).join('\n')}`);
  const good = (score: Score) =>
    score.exit === score.expectedExit && (score.measured === null || score.measured.firstFault === null);
  const was = new Map(shared.map((score) => [score.name, good(score)]));
  const changed = (better: boolean) =>
    now.filter((score) => good(score) === better && was.get(score.name) !== better).map(({ name }) => name);
  console.log(
    `\nNow right: ${changed(true).join(', ') || 'none'}\nNow wrong: ${changed(false).join(', ') || 'none'}`,
  );
}
