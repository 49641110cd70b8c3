import { spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { copyFile, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Command } from 'commander';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { currentReadme } from '../scripts/figures/current-readme.js';
import { COMMAND } from './support/command.js';
import { blocksOf, optionsNamed, shellCommands } from './support/readme-examples.js';

const project = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

/** Commands of README that are not run here, by how they begin, and why. */
const NOT_RUN: readonly (readonly [start: string, reason: string])[] = [
  ['npm install --global ', 'changes the machine, and takes the package from the registry'],
  ['parallel --sshloginfile ', 'needs other machines'],
];

/** Files that README's examples name, and the samples that they are here. */
const FILES: readonly (readonly [name: string, sample: string])[] = [
  ['ticking.jpg', 'samples/painted/ticking-metal-rule.jpg'],
  ['sash.jpg', 'samples/painted/balanced-dual-rule.jpg'],
  ['photos/ticking.jpg', 'samples/painted/ticking-metal-rule.jpg'],
  ['photos/sash.jpg', 'samples/painted/balanced-dual-rule.jpg'],
  ['tunic.svg', 'samples/pieces/tunic.svg'],
];

/** What a cluster's scheduler sets for a script that it starts. */
const SCHEDULER = { SLURM_CPUS_PER_TASK: '2', SLURM_ARRAY_TASK_ID: '1' };

let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'readme-'));
  await mkdir(join(folder, 'photos'));
  await mkdir(join(folder, '.bin'));
  for (const [name, sample] of FILES) await copyFile(project(sample), join(folder, name));
  const words = [process.execPath, ...COMMAND].map((word) => `'${word}'`).join(' ');
  await writeFile(join(folder, '.bin/stripewright'), `#!/bin/sh\nexec ${words} "$@"\n`, { mode: 0o755 });
});
afterAll(() => rm(folder, { recursive: true, force: true }));

interface Said {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** In the folder of the examples, where `stripewright` is this project's command. */
function inFolder(program: string, words: readonly string[]): Promise<Said> {
  return new Promise((done, fail) => {
    const env = { ...process.env, ...SCHEDULER, PATH: `${join(folder, '.bin')}:${process.env.PATH}` };
    const child = spawn(program, words, { cwd: folder, env, stdio: ['ignore', 'pipe', 'pipe'] });
    const said = { out: '', err: '' };
    for (const [stream, to] of [
      [child.stdout, 'out'],
      [child.stderr, 'err'],
    ] as const) {
      stream.setEncoding('utf8').on('data', (text: string) => {
        said[to] += text;
      });
    }
    child.on('error', fail);
    child.on('close', (code) => done({ code, ...said }));
  });
}

const isRun = (command: string): boolean => !NOT_RUN.some(([start]) => command.startsWith(start));

describe('the commands of README', () => {
  it('are all known: run below, or listed with the reason why not', () => {
    for (const [start] of NOT_RUN) {
      expect(
        shellCommands().filter((command) => command.startsWith(start)),
        start,
      ).not.toEqual([]);
    }
    for (const command of shellCommands().filter(isRun)) {
      expect(command, 'neither a command of this project nor listed').toMatch(
        /^(#!.*\n(#.*\n)*)?stripewright /,
      );
    }
  });

  // One after another, as a reader types them: later ones take what earlier ones wrote.
  it.each(shellCommands().filter(isRun))(
    '%s',
    async (command) => {
      expect(await inFolder('/bin/sh', ['-c', command])).toMatchObject({ code: 0, err: '' });
      for (const [, path] of command.matchAll(/look at (\S+) first/g)) {
        expect(existsSync(join(folder, path)), path).toBe(true);
      }
    },
    120_000,
  );

  it('leave what README says they write', () => {
    const table = /^\| file \| what it is \|\n\| --- .*\n((?:\|.*\n)+)/m.exec(
      readFileSync(project('README.md'), 'utf8'),
    );
    const rows = (table?.[1] ?? '').trim().split('\n');
    const named = rows.flatMap((row) => row.split('|')[1].match(/[\w.-]+\.\w+/g) ?? []);
    expect(named).toContain('bands.json');
    expect(readdirSync(join(folder, 'ticking'))).toEqual(expect.arrayContaining(named));
  });
});

describe('the programs of README', () => {
  it.each(blocksOf('ts'))(
    '%s',
    async (program) => {
      const doors = { 'stripewright/node': 'src/node.ts', stripewright: 'src/index.ts' };
      const local = program.replace(/(?<=from ')(stripewright(?:\/node)?)(?=')/g, (door) =>
        project(doors[door as keyof typeof doors]),
      );
      await writeFile(join(folder, 'example.mts'), local);
      const tsx = `file://${createRequire(import.meta.url).resolve('tsx')}`;
      const said = await inFolder(process.execPath, ['--import', tsx, 'example.mts']);
      expect(said).toMatchObject({ code: 0, err: '' });
      // The sample's repeat, as it was painted.
      const { repeat_across_mm } = JSON.parse(
        readFileSync(project('samples/painted/ticking-metal-rule.truth.json'), 'utf8'),
      );
      expect(Number.parseFloat(said.out) / repeat_across_mm).toBeCloseTo(1, 2);
    },
    120_000,
  );
});

describe('README', () => {
  it('names no option that no command has', async () => {
    const program = new Command();
    for (const name of readdirSync(project('src/cli')).filter((file) => file.endsWith('.ts'))) {
      if (!/^export function register/m.test(readFileSync(project(`src/cli/${name}`), 'utf8'))) continue;
      const commands: Record<string, unknown> = await import(/* @vite-ignore */ project(`src/cli/${name}`));
      for (const [key, register] of Object.entries(commands)) {
        if (key.startsWith('register')) (register as (program: Command) => void)(program);
      }
    }
    const known = program.commands.flatMap(({ options }) => options.map(({ long }) => long));
    expect(known).toContain('--cloth');
    expect(optionsNamed().filter((option) => !['--help', '--version', ...known].includes(option))).toEqual(
      [],
    );
  });

  it('shows the figures that were kept, for the scenes that there are: scripts/refresh-readme writes them', () => {
    const { is, should } = currentReadme();
    expect(is).toBe(should);
  });
});
