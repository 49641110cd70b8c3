import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Command } from 'commander';
import { describe, expect, it } from 'vitest';
import { processCount } from '../src/cli/batch/process-count.js';
import { parseShard } from '../src/cli/batch/shard.js';
import { registerMeasure } from '../src/cli/measure.js';

const README = readFileSync(fileURLToPath(new URL('../README.md', import.meta.url)), 'utf8');
const SECTION = /^## Many photos\n([\s\S]*?)^## /m.exec(README)?.[1] ?? '';
const BLOCKS = [...SECTION.matchAll(/^```sh\n([\s\S]*?)^```/gm)].map(([, text]) => text);
const COMMANDS = [...SECTION.matchAll(/\bstripewright (measure [^\n'`#]*)/g)].map(([, words]) =>
  words.trim(),
);

describe('what README shows for many photos', () => {
  it('is found', () => {
    expect([BLOCKS.length, COMMANDS.length]).toEqual([3, 5]);
  });

  it.each(BLOCKS)('is good shell: %s', (text) => {
    expect(execFileSync('sh', ['-n'], { input: text, encoding: 'utf8' })).toBe('');
  });

  it.each(COMMANDS)('is understood by the command: %s', async (line) => {
    // As the shell and what spreads the work fill them in.
    const words = line
      .replace(/"?\$SLURM_\w+(\/4)?"?/g, '2$1')
      .replace('{}', '2')
      .split(' ');
    const program = new Command().exitOverride().configureOutput({ writeErr: () => {} });
    registerMeasure(program);
    let asked: { photos: string[]; options: Record<string, string> } | null = null;
    program.commands[0].exitOverride().action((photos, options) => {
      asked = { photos, options };
    });
    await program.parseAsync(['node', 'stripewright', ...words]);
    expect(asked).toMatchObject({ photos: [expect.any(String)], options: { out: 'catalogue' } });
    const { shard, jobs } = (asked as unknown as { options: Record<string, string | undefined> }).options;
    if (shard !== undefined) expect(parseShard(shard)).toEqual({ part: 2, of: 4 });
    if (jobs !== undefined) expect(processCount({ jobs }, 8, 1e4)).toBe(2);
  });
});
