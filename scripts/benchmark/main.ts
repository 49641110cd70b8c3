/**
 * Accuracy, time and memory of the measure command over scenes with known truth.
 *   --shared, --painted, --prints, --setts
 *                                  which scenes (the first two when none is named): prints are motifs with swept cover and drop, and checks
 *   --keep                         with --painted: keep the figures that README shows, then: scripts/refresh-readme --figures
 *   --random N --seed S            N scenes of randomly drawn conditions instead, by group
 *   --trace N --seed S             N photos of paper pieces instead: outlines, corners, notches, grain lines, refusals
 *   --real                         real photos with figures taken by hand
 *   --place N --seed S            N plans placed, each compared with trying everything, and larger ones timed
 *   --packing SECONDS --seed S     public instances of strip packing, against the best published lengths (--only NAMES)
 *   --save FILE, --against FILE    keep the rows of --random; print before and after against kept ones
 *   --only PATTERN                 scenes whose name matches
 *   --runs N                       quickest of N runs counts for the time (1); for --ratio, medians of N (9)
 *   --ratio                        time and memory against a process that only decodes, 12 and 48 megapixels
 *   --stages                       time by stage, and growth with the pixel count, instead
 */
import { parseArgs } from 'node:util';
import { keepFigures } from '../figures/keep-figures.js';
import { benchScene } from './bench-scene.js';
import { benchCheckOrPrint } from './check-or-print.js';
import { packingBench } from './lay/packing-bench.js';
import { paintedScenes } from './painted-scenes.js';
import { type BenchPhoto, paintedPhoto } from './photo-cache.js';
import { benchPlace } from './place-bench.js';
import { checkSettScenes, printScenes } from './print-scenes.js';
import { benchRandom, printComparison, readScores, saveScores } from './random-bench.js';
import { benchRatio } from './ratio-bench.js';
import { benchReal } from './real-bench.js';
import { commandIsBuilt } from './run-measure.js';
import { settScenes } from './sett-scenes.js';
import { sharedScenes } from './shared-scenes.js';
import { benchStages } from './stages.js';
import { type Row, tableHead, tableRow, tableTotals } from './table.js';
import { benchTrace } from './trace/bench-trace.js';

const { values } = parseArgs({
  options: {
    shared: { type: 'boolean', default: false },
    painted: { type: 'boolean', default: false },
    keep: { type: 'boolean', default: false },
    prints: { type: 'boolean', default: false },
    setts: { type: 'boolean', default: false },
    stages: { type: 'boolean', default: false },
    ratio: { type: 'boolean', default: false },
    real: { type: 'boolean', default: false },
    random: { type: 'string' },
    place: { type: 'string' },
    packing: { type: 'string' },
    trace: { type: 'string' },
    seed: { type: 'string', default: '1' },
    save: { type: 'string' },
    against: { type: 'string' },
    only: { type: 'string', default: '' },
    runs: { type: 'string' },
  },
});

async function benchGroup(title: string, photos: readonly (() => Promise<BenchPhoto>)[]): Promise<Row[]> {
  console.log(`\n${title}\n${tableHead()}`);
  const rows: Row[] = [];
  for (const photo of photos) {
    const row = await benchScene(await photo(), Number(values.runs ?? 1));
    rows.push(row);
    console.log(tableRow(row));
  }
  if (rows.length === 0) console.log('no scene of that name');
  else console.log(tableTotals(rows).join('\n'));
  return rows;
}

async function run(): Promise<void> {
  if (values.packing !== undefined)
    return packingBench(Number(values.packing), Number(values.seed), values.only === '' ? null : values.only);
  if (values.place !== undefined) return benchPlace(Number(values.place), Number(values.seed));
  if (values.stages) return benchStages();
  if (values.trace !== undefined) return benchTrace(Number(values.trace), Number(values.seed));
  if (!commandIsBuilt()) {
    console.error('The command is not built: run "npm run build" first.');
    process.exitCode = 1;
    return;
  }
  if (values.keep && (!values.painted || values.only !== '')) {
    console.error('--keep: expected --painted without --only, since README speaks of all painted scenes.');
    process.exitCode = 2;
    return;
  }
  const wanted = new RegExp(values.only);
  if (values.ratio) return benchRatio(Number(values.runs ?? 9));
  if (values.real) return benchReal(wanted);
  if (values.random !== undefined) {
    const scores = await benchRandom({
      count: Number(values.random),
      seed: Number(values.seed),
      only: wanted,
    });
    if (values.save) await saveScores(values.save, scores);
    if (values.against) printComparison(await readScores(values.against), scores);
    return;
  }
  const all = !values.shared && !values.painted && !values.prints && !values.setts;
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
    const rows = await benchGroup(
      'Painted scenes',
      scenes.map((scene) => () => paintedPhoto(scene)),
    );
    if (values.keep) keepFigures(rows);
  }
  if (values.prints) {
    console.log('\nChecks and prints that look alike');
    benchCheckOrPrint(wanted);
    const scenes = printScenes().filter(({ name }) => wanted.test(name));
    await benchGroup(
      'Printed cloth',
      scenes.map((scene) => () => paintedPhoto(scene)),
    );
    const checks = checkSettScenes()?.filter(({ name }) => wanted.test(name));
    if (checks) {
      await benchGroup(
        'Recorded thread counts, woven both ways',
        checks.map((scene) => () => paintedPhoto(scene)),
      );
    } else console.log('Recorded thread counts: the list is not beside the project, skipped.');
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
