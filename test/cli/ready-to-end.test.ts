import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';

const tsx = `file://${createRequire(import.meta.url).resolve('tsx')}`;
const module = new URL('../../src/cli/ready-to-end.ts', import.meta.url).href;

/** Functions that a script gives the optimising compiler before and after it says "ready". */
function compiled(script: string): { before: number; after: number } {
  const words = ['--trace-opt', '--import', tsx, '--input-type=module', '-e', script];
  const { stdout, status } = spawnSync(process.execPath, words, { encoding: 'utf8', timeout: 30_000 });
  expect(status).toBe(0);
  const [before, after] = stdout.split('ready\n').map((text) => text.split('compiling method').length - 1);
  return { before, after };
}

const HOT = `
  const a = new Float64Array(300);
  const hot = (k) => { const f = new Function('a', 'let s = ' + k + '; for (const v of a) s ^= v | ' + k + '; return s;');
    for (let r = 0; r < 20000; r++) f(a); };`;

describe('readyToEnd', { timeout: 60_000 }, () => {
  it('lets no function be compiled in the background any more', () => {
    const with_ = compiled(`import { readyToEnd } from ${JSON.stringify(module)};
      ${HOT} hot(1); readyToEnd(); console.log('ready'); hot(2);`);
    expect(with_.before).toBeGreaterThan(0);
    expect(with_.after).toBe(0);
    // Without it, the same work is compiled: the check can fail.
    expect(compiled(`${HOT} hot(1); console.log('ready'); hot(2);`).after).toBeGreaterThan(0);
  });

  it('collects the whole heap once, so that its limits are drawn anew', () => {
    const script = `import { readyToEnd } from ${JSON.stringify(module)};
      console.log('ready'); readyToEnd();`;
    const words = ['--trace-gc', '--import', tsx, '--input-type=module', '-e', script];
    const { stdout } = spawnSync(process.execPath, words, { encoding: 'utf8', timeout: 30_000 });
    expect(stdout.split('ready\n')[1].match(/Mark-Compact/g)).toHaveLength(1);
  });
});
