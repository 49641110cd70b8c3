import { execFileSync } from 'node:child_process';
import { copyFile, cp, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import type { SeededRandom } from '../../test/support/photo-painter/seeded-random.js';
import { endingOf, endingWrong, leftWrong, type Run, runCommand } from './run-command.js';
import type { Verdicts } from './verdicts.js';

const PHOTO = fileURLToPath(new URL('../../samples/painted/ticking-metal-rule.jpg', import.meta.url));

/** Names that break what takes them apart, all lawful. */
const NAMES = [
  'tunic front.jpg',
  '  .jpg',
  'tunic "front".jpg',
  "tunic 'front'.jpg",
  'tunic\nfront.jpg',
  'tunic\r\tfront.jpg',
  '-tunic.jpg',
  '--out.jpg',
  '$(touch tunic).jpg',
  '`tunic`;&|<>.jpg',
  '%2e%2e%2ftunic.jpg',
  'tunic\\front.jpg',
  '..jpg',
  '...jpg',
  '\u001b[2Jtunic.jpg',
  'Tunika \u00fc \u6761\u7eb9 \ud83e\uddf5.jpg',
  'tu\u202enic.jpg',
  '<b>tunic&amp;.jpg',
  '=1+1.jpg',
  `${'t'.repeat(240)}.jpg`,
  'tunic.jpg.jpg',
  'tunic',
];

/** Photos of awkward names, one at a time and all at once. */
export async function runNameCases(scratch: string, verdicts: Verdicts): Promise<void> {
  const photos = join(scratch, 'names');
  await mkdir(photos, { recursive: true });
  for (const name of NAMES) await writeFile(join(photos, name), 'no photo');
  for (const name of NAMES) {
    const folder = join(scratch, 'name-result');
    const run = await runCommand(['--out', folder, '--', join(photos, name)], null);
    const wrong =
      endingWrong(run) ?? (run.code === 3 ? await leftWrong(folder, false) : `exit code ${run.code}`);
    verdicts.add('names', endingOf(run), name, wrong);
  }
  await copyFile(PHOTO, join(photos, 'tunic\nfront.jpg'));
  const all = join(scratch, 'names-result');
  const run = await runCommand(['--out', all, '--', ...NAMES.map((name) => join(photos, name))], null);
  const lines = run.err.trimEnd().split('\n').length;
  const wrong = run.code === 1 && lines === NAMES.length - 1 ? null : `${endingOf(run)}, ${lines} lines`;
  verdicts.add('names', endingOf(run), 'all at once', wrong);
}

/** A folder, and files rounded up to whole pages, take no more beside their size, KB. */
const SPARE_KB = 120;

/** Folders that cannot be written, or not for long: nothing new there, and what was there before stays. */
export async function runFullFolderCases(
  count: number,
  random: SeededRandom,
  scratch: string,
  verdicts: Verdicts,
): Promise<void> {
  const earlier = join(scratch, 'earlier');
  await runCommand(['--quiet', '--out', earlier, '--', PHOTO], null);
  const size = Number(execFileSync('du', ['-sk', earlier], { encoding: 'utf8' }).split('\t')[0]);
  for (let k = 0; k < count; k++) {
    const disk = join(scratch, `disk-${k}`);
    await mkdir(disk);
    const isReadOnly = k % 5 === 0;
    const hasEarlier = k % 2 === 0;
    // From no room at all to just too little for the whole result; what the folder itself and an earlier result take more than their size is spared.
    const roomKb = Math.round(random.between(4, size - SPARE_KB)) + (hasEarlier ? size + SPARE_KB / 2 : 0);
    if (!mounted(disk, `size=${roomKb}k`)) {
      verdicts.add('folders', 'skipped: may not mount', 'full', null);
      break;
    }
    try {
      const folder = join(disk, 'result');
      if (hasEarlier) await cp(earlier, folder, { recursive: true });
      if (isReadOnly) execFileSync('mount', ['-o', 'remount,ro', disk]);
      const words = k % 3 === 0 ? ['--jobs', '1'] : [];
      // For many photos: the folder itself is the one that is full.
      const run = await runCommand([...words, '--out', words.length > 0 ? disk : folder, '--', PHOTO], null);
      const what = `${isReadOnly ? 'read-only' : `room for ${roomKb} KB`}${words.length > 0 ? ', batch' : ''}`;
      const wrong =
        (run.code === 1 ? endingWrong({ ...run, out: '' }) : `${endingOf(run)}: ${run.err}`) ??
        (hasEarlier ? await changed(earlier, folder) : await leftWrong(folder, false));
      verdicts.add('folders', endingOf(run), what, wrong);
    } finally {
      execFileSync('umount', [disk]);
    }
  }
  for (const place of ['/dev/full', '/dev/null/result', PHOTO, '/proc/result']) {
    const run = await runCommand(['--out', place, '--', PHOTO], null);
    const wrong = run.code === 1 || run.code === 2 ? endingWrong(run) : endingOf(run);
    verdicts.add('folders', endingOf(run), place, wrong);
  }
}

function mounted(place: string, options: string): boolean {
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', options, 'tmpfs', place], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

/** Whether a folder is no longer what it was. */
async function changed(was: string, is: string): Promise<string | null> {
  const names = (await readdir(is)).sort();
  const before = (await readdir(was)).sort();
  if (names.join() !== before.join()) return `holds ${names.join(', ')}`;
  for (const name of names) {
    if (!(await readFile(join(is, name))).equals(await readFile(join(was, name))))
      return `${name} has changed`;
  }
  return null;
}

/** Interrupts at random moments, of one photo and of several. */
export async function runInterruptCases(
  count: number,
  random: SeededRandom,
  scratch: string,
  verdicts: Verdicts,
): Promise<void> {
  const usual = performance.now();
  await runCommand(['--quiet', '--out', join(scratch, 'timing'), '--', PHOTO], null);
  const usualMs = performance.now() - usual;
  const second = join(scratch, 'second.jpg');
  await copyFile(PHOTO, second);
  for (let k = 0; k < count; k++) {
    const place = join(scratch, `interrupt-${k}`);
    await mkdir(place);
    const folder = join(place, 'result');
    const isBatch = k % 3 === 0;
    // More often towards the end, where files are written.
    const afterMs = usualMs * (isBatch ? 2 : 1) * Math.sqrt(random.between(0, 1.1));
    const signal = random.uniform() < 0.7 ? 'SIGINT' : 'SIGTERM';
    const words = isBatch
      ? ['--jobs', '1', '--out', folder, '--', PHOTO, second]
      : ['--out', folder, '--', PHOTO];
    const run = await runCommand(words, null, async (child) => {
      await delay(afterMs);
      child.kill(signal);
    });
    const what = `${signal} after ${afterMs.toFixed(0)} ms${isBatch ? ', batch' : ''}`;
    const wrong =
      interruptWrong(run, signal) ?? (isBatch ? await batchLeft(folder) : await singleLeft(folder));
    verdicts.add('interrupts', endingOf(run), what, wrong);
    await rm(place, { recursive: true });
  }
}

const interruptWrong = (run: Run, signal: NodeJS.Signals): string | null => {
  if (run.isLate) return 'no end';
  const number = signal === 'SIGINT' ? 130 : 143;
  const isFine = run.code === 0 || run.code === number || run.signal === signal;
  return isFine ? null : `ended with ${endingOf(run)}: ${run.err}`;
};

/** All of a result, or no trace of it. */
async function singleLeft(folder: string): Promise<string | null> {
  const isThere = (await readdir(folder).catch(() => null)) !== null;
  return leftWrong(folder, isThere);
}

async function batchLeft(folder: string): Promise<string | null> {
  for (const name of await readdir(folder).catch(() => [])) {
    if (name.startsWith('.')) return `left ${name}`;
    if (!name.startsWith('index.')) {
      const wrong = await leftWrong(join(folder, name), true);
      if (wrong !== null) return `${basename(name)}: ${wrong}`;
    }
  }
  return null;
}
