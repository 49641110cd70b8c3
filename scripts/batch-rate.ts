/**
 * Photos a second of the built command: one command a photo, many photos in one process, and many in as many as there are cores, on
 * the same photos, in turns, since timings drift. All outputs are written.
 *
 *   scripts/batch-rate --photos 200 --jobs 2 samples/painted/*.jpg
 */
import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    photos: { type: 'string', default: '200' },
    jobs: { type: 'string', default: String(availableParallelism()) },
    /** How many of the photos are measured with a command each: that rate needs fewer. */
    single: { type: 'string', default: '20' },
    /** Lots into which the photos are cut, to take turns. */
    turns: { type: 'string', default: '4' },
  },
});
const inProject = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));
const command = inProject('dist/cli/main.js');
const models =
  positionals.length > 0
    ? positionals
    : ['ticking-metal-rule', 'shell-wooden-rule', 'balanced-dual-rule'].map((name) =>
        inProject(`samples/painted/${name}.jpg`),
      );

const scratch = mkdtempSync(join(tmpdir(), 'batch-rate-'));
mkdirSync(join(scratch, 'photos'));
const photos = Array.from({ length: Number(values.photos) }, (_, k) => {
  const model = models[k % models.length];
  const path = join(scratch, 'photos', `${k}${extname(model)}`);
  copyFileSync(model, path);
  return path;
});

const totals = new Map<string, { photos: number; seconds: number }>();
function timed(way: string, count: number, run: () => void): void {
  const from = performance.now();
  run();
  const total = totals.get(way) ?? { photos: 0, seconds: 0 };
  total.photos += count;
  total.seconds += (performance.now() - from) / 1000;
  totals.set(way, total);
}

function measure(...words: string[]): void {
  const out = join(scratch, 'out');
  const { status, stderr } = spawnSync(
    process.execPath,
    [command, 'measure', '--quiet', '--out', out, ...words],
    {
      encoding: 'utf8',
    },
  );
  if (status !== 0) throw new Error(`exit code ${status}: ${stderr}`);
  rmSync(out, { recursive: true });
}

const ONE_EACH = 'one command a photo';
const ONE = 'many, one at a time';
const MANY = `many, ${values.jobs} at a time`;
const turns = Number(values.turns);
try {
  for (let turn = 0; turn < turns; turn++) {
    const some = photos.filter((_, k) => k % turns === turn);
    const few = some.slice(0, Math.ceil(Number(values.single) / turns));
    timed(ONE_EACH, few.length, () => {
      for (const photo of few) measure(photo);
    });
    timed(ONE, some.length, () => measure('--jobs', '1', ...some));
    timed(MANY, some.length, () => measure('--jobs', String(values.jobs), ...some));
  }
} finally {
  rmSync(scratch, { recursive: true });
}
const rate = (way: string): number => {
  const { photos, seconds } = totals.get(way) as { photos: number; seconds: number };
  return photos / seconds;
};
for (const way of [ONE_EACH, ONE, MANY]) {
  console.log(
    `${way.padEnd(24)} ${rate(way).toFixed(2)} photos a second, ${(rate(way) / rate(ONE_EACH)).toFixed(2)} times the first, ${(rate(way) / rate(ONE)).toFixed(2)} times the second`,
  );
}
