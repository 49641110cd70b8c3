import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runMeasure } from '../../scripts/benchmark/run-measure.js';

describe('running the command for the benchmark', () => {
  const folder = mkdtempSync(join(tmpdir(), 'stripewright-run-'));
  afterAll(() => rmSync(folder, { recursive: true }));
  const stand = (name: string, body: string): string => {
    const file = join(folder, name);
    writeFileSync(file, body);
    return file;
  };

  it('hands over the flags and reads the model from the output', async () => {
    const echo = stand('echo.cjs', 'console.log(JSON.stringify({ args: process.argv.slice(2) }))');
    const run = await runMeasure('photo.jpg', ['--sheet', 'a4'], echo);
    const { args } = run.model as unknown as { args: string[] };
    expect(run.exitCode).toBe(0);
    expect(args.slice(0, 2)).toEqual(['measure', 'photo.jpg']);
    expect(args).toContain('--json');
    expect(args.slice(-2)).toEqual(['--sheet', 'a4']);
  });

  it('keeps the exit code and the line of a refusal', async () => {
    const no = stand('no.cjs', 'console.error("No ruler found"); process.exitCode = 4');
    const run = await runMeasure('photo.jpg', [], no);
    expect(run).toMatchObject({ exitCode: 4, model: null, said: 'No ruler found' });
  });

  it('sees the largest memory, where the system tells it', async () => {
    const big = stand(
      'big.cjs',
      'const b = Buffer.alloc(300e6, 1); console.log(JSON.stringify({ n: b.length }))',
    );
    const { peakMb } = await runMeasure('photo.jpg', [], big);
    if (peakMb !== null) expect(peakMb).toBeGreaterThan(280);
  });
});
