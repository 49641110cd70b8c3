/**
 * Runs the built command with all its outputs many times, several at a time, each with a time limit. Every run must end by itself
 * with exit code 0 and the very files of the first run. Prints counts and times; exits with 1 when a run did not.
 *
 *   scripts/stress --runs 1000 --at-once 3 --limit 60 --photo samples/painted/ticking-metal-rule.jpg
 *
 * Words after "--" go to Node before the command, such as --no-concurrent-recompilation.
 */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const inProject = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

const { values, positionals: nodeWords } = parseArgs({
  allowPositionals: true,
  options: {
    runs: { type: 'string', default: '1000' },
    'at-once': { type: 'string', default: '3' },
    limit: { type: 'string', default: '60' },
    photo: { type: 'string', default: 'samples/painted/ticking-metal-rule.jpg' },
  },
});
const runs = Number(values.runs);
const limitMs = 1000 * Number(values.limit);
const command = [...nodeWords, inProject('dist/cli/main.js'), 'measure', inProject(values.photo)];

/** How one run went: its time, or what was wrong. */
type Run = { readonly ms: number; readonly files: string } | { readonly wrong: string };

const scratch = await mkdtemp(join(tmpdir(), 'stress-'));
const times: number[] = [];
const wrongs = new Map<string, number>();
let expected: string | null = null;
let started = 0;
let ended = 0;
// An interrupt lets the runs under way end, and reports on those that were.
let isStopped = false;
process.once('SIGINT', () => {
  isStopped = true;
});
await Promise.all(Array.from({ length: Number(values['at-once']) }, lane));
await rm(scratch, { recursive: true });

times.sort((a, b) => a - b);
const seconds = (share: number): string =>
  ((times[Math.floor(share * (times.length - 1))] ?? 0) / 1000).toFixed(2);
console.log(
  `${ended} runs, ${values['at-once']} at a time: ${times.length} whole; median ${seconds(0.5)} s, longest ${seconds(1)} s`,
);
for (const [wrong, count] of wrongs) console.log(`${count} x ${wrong}`);
process.exitCode = wrongs.size > 0 ? 1 : 0;

async function lane(_: unknown, index: number): Promise<void> {
  const out = join(scratch, `lane-${index}`);
  while (started < runs && !isStopped) {
    started++;
    await rm(out, { recursive: true, force: true });
    const run = await once(out);
    expected ??= 'files' in run ? run.files : null;
    const wrong =
      'wrong' in run ? run.wrong : run.files === expected ? null : 'other files than the first run';
    if (wrong !== null) wrongs.set(wrong, (wrongs.get(wrong) ?? 0) + 1);
    else if ('ms' in run) times.push(run.ms);
    if (++ended % 100 === 0) console.log(`${ended} runs, ${ended - times.length} wrong`);
  }
}

function once(out: string): Promise<Run> {
  return new Promise((done) => {
    const from = performance.now();
    const child = spawn(process.execPath, [...command, '--out', out], { stdio: 'ignore' });
    const timer = setTimeout(async () => {
      const files = await filesOf(out).catch(() => '');
      child.kill('SIGKILL');
      const whole = files !== '' && files === expected ? 'whole' : 'not whole';
      done({ wrong: `no end within ${values.limit} s, its files ${whole}` });
    }, limitMs);
    child.on('exit', async (code, signal) => {
      clearTimeout(timer);
      const ms = performance.now() - from;
      if (code !== 0) done({ wrong: `ended by ${signal ?? `exit code ${code}`}` });
      else done({ ms, files: await filesOf(out) });
    });
  });
}

/** Names and contents of a folder's files, as one text. */
async function filesOf(folder: string): Promise<string> {
  const names = (await readdir(folder)).sort();
  const marks = names.map(async (name) => {
    const content = await readFile(join(folder, name));
    return `${name} ${createHash('sha256').update(content).digest('hex')}`;
  });
  return (await Promise.all(marks)).join('\n');
}
