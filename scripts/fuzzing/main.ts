/**
 * Gives the program what it should never be given, and checks that each case ends in time, with a documented exit code and one
 * clear line, in bounded memory, and without a partial result. All chance comes from the seed.
 *
 *   scripts/fuzz --seed 1 --reading 1500 --command 150 --batch 500 --folders 20 --interrupts 40
 */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { seededRandom } from '../../test/support/photo-painter/seeded-random.js';
import { runBatchCases, runCommandCases } from './command-cases.js';
import { DAMAGES } from './damage.js';
import { runFullFolderCases, runInterruptCases, runNameCases } from './folder-cases.js';
import { hostileFiles } from './hostile-files.js';
import { type FileCase, runReadingCases } from './reading-cases.js';
import { Verdicts } from './verdicts.js';
import { wholeFiles } from './whole-files.js';

const { values } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    reading: { type: 'string', default: '1500' },
    command: { type: 'string', default: '150' },
    batch: { type: 'string', default: '500' },
    folders: { type: 'string', default: '20' },
    interrupts: { type: 'string', default: '40' },
  },
});
const seed = Number(values.seed);
const random = seededRandom(seed);
const scratch = await mkdtemp(join(tmpdir(), 'fuzz-'));
const verdicts = new Verdicts();
const whole = await wholeFiles();
const hostile = await hostileFiles(random);
const damages = Object.entries(DAMAGES);

/** Hostile files first, each once; then damaged ones. */
async function made(count: number, name: string): Promise<FileCase[]> {
  const folder = join(scratch, name);
  await mkdir(folder);
  const cases: FileCase[] = [];
  for (let k = 0; k < count; k++) {
    const path = (ending: string) => join(folder, `case-${k}.${ending}`);
    if (k < hostile.length) {
      const { what, ending, bytes } = hostile[k];
      await writeFile(path(ending), bytes);
      cases.push({ what, path: path(ending) });
      continue;
    }
    const { ending, bytes } = whole[Math.floor(random.uniform() * whole.length)];
    const [damageName, damage] = damages[Math.floor(random.uniform() * damages.length)];
    await writeFile(path(ending), damage(bytes, random));
    cases.push({ what: `${ending}, ${damageName} (case ${k})`, path: path(ending) });
  }
  return cases;
}

try {
  await runReadingCases(await made(Number(values.reading), 'reading'), verdicts);
  await rm(join(scratch, 'reading'), { recursive: true });
  await runCommandCases(await made(Number(values.command), 'command'), scratch, verdicts);
  await runBatchCases(await made(Number(values.batch), 'batch-photos'), 50, scratch, verdicts);
  await runNameCases(scratch, verdicts);
  await runFullFolderCases(Number(values.folders), random, scratch, verdicts);
  await runInterruptCases(Number(values.interrupts), random, scratch, verdicts);
} finally {
  await rm(scratch, { recursive: true, force: true });
}
verdicts.print(seed);
process.exitCode = verdicts.isGood ? 0 : 1;
