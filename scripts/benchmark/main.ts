/**
 * Accuracy, time and memory of the measure command over scenes with known truth.
 *   --shared, --painted, --setts   which scenes (all of the first two when none is named)
 *   --only PATTERN                 scenes whose name matches
 *   --runs N                       quickest of N runs counts for the time
 *   --stages                       time by stage, and growth with the pixel count, instead
 */
import { parseArgs } from 'node:util';
import { benchScene } from './bench-scene.js';
import { paintedScenes } from './painted-scenes.js';
import { type BenchPhoto, paintedPhoto } from './photo-cache.js';
import { commandIsBuilt } from './run-measure.js';
import { settScenes } from './sett-scenes.js';
import { sharedScenes } from './shared-scenes.js';
import { benchStages } from './stages.js';
import { type Row, tableHead, tableRow, tableTotals } from './table.js';

const { values } = parseArgs({
  options: {
    shared: { type: 'boolean', default: false },
    painted: { type: 'boolean', default: false },
    setts: { type: 'boolean', default: false },
    stages: { type: 'boolean', default: false },
    only: { type: 'string', default: '' },
    runs: { type: 'string', default: '1' },
  },
});

async function benchGroup(title: string, photos: readonly (() => Promise<BenchPhoto>)[]): Promise<void> {
  console.log(`\n${title}\n${tableHead()}`);
  const rows: Row[] = [];
  for (const photo of photos) {
    const row = await benchScene(await photo(), Number(values.runs));
    rows.push(row);
    console.log(tableRow(row));
  }
  if (rows.length === 0) console.log('no scene of that name');
  else console.log(tableTotals(rows).join('\n'));
}

async function run(): Promise<void> {
  if (values.stages) return benchStages();
  if (!commandIsBuilt()) {
    console.error('The command is not built: run "npm run build" first.');
    process.exitCode = 1;
    return;
  }
  const wanted = new RegExp(values.only);
  const all = !values.shared && !values.painted && !values.setts;
  if (values.shared || all) {
    const scenes = sharedScenes()?.filter(({ truth }) => wanted.test(truth.name));
    if (scenes) {
      await benchGroup(
        'Scenes with exact truth',
        scenes.map((photo) => async () => photo),
      );
    } else console.log('Scenes with exact truth: not beside the project, skipped.');
  }
  if (values.painted || all) {
    const scenes = paintedScenes().filter(({ name }) => wanted.test(name));
    await benchGroup(
      'Painted scenes',
      scenes.map((scene) => () => paintedPhoto(scene)),
    );
  }
  if (values.setts) {
    const scenes = settScenes()?.filter(({ name }) => wanted.test(name));
    if (scenes) {
      await benchGroup(
        'Recorded thread counts',
        scenes.map((scene) => () => paintedPhoto(scene)),
      );
    } else console.log('Recorded thread counts: the list is not beside the project, skipped.');
  }
}

await run();
