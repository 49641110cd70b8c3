import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, test } from 'vitest';
import { placementSchema } from '../src/core/place/answer/placement-schema.js';
import { planSchema } from '../src/core/place/plan/plan-schema.js';
import { runCommand } from './support/command.js';
import { panel } from './support/rectangle-pieces.js';

const MODEL = new URL('../samples/ticking.bands.json', import.meta.url).pathname;
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'stripewright-place-'));
  const pieces = [
    panel('gore', 90, 260, {
      stripes: { to: 'grain', angle_deg: 40 },
      seams: [{ id: 'centre', from: 'low-right', to: 'high-right' }],
      copies: [
        { id: 'gore-left', mirrored: false },
        { id: 'gore-right', mirrored: true },
      ],
    }),
  ];
  writeFileSync(
    join(folder, 'gore.pieces.json'),
    JSON.stringify({ format: 'stripewright.pieces', version: 1, units: 'mm', pieces }),
  );
});

describe('plan, then place', () => {
  test('a first plan names what there is, follows its schema, and is placed as it stands', async () => {
    const planFile = join(folder, 'gore.plan.json');
    const planned = await runCommand(folder, [
      'plan',
      '--model',
      MODEL,
      '--pieces',
      join(folder, 'gore.pieces.json'),
      '--out',
      planFile,
    ]);
    expect(planned.code).toBe(0);
    const plan = JSON.parse(readFileSync(planFile, 'utf8'));
    expect(new Ajv2020({ allowUnionTypes: true }).validate(planSchema, plan)).toBe(true);
    expect(Object.keys(plan.names.copies)).toEqual(['gore-left', 'gore-right']);
    expect(plan.joins[0].guessed).toContain('keep it if they are sewn together');

    const out = join(folder, 'placed');
    const placed = await runCommand(folder, ['place', planFile, '--out', out]);
    expect(placed.err).toBe('');
    expect(placed.code).toBe(0);
    const placement = JSON.parse(readFileSync(join(out, 'place.json'), 'utf8'));
    const ajv = new Ajv2020({ allowUnionTypes: true });
    expect(ajv.validate(placementSchema, placement), JSON.stringify(ajv.errors)).toBe(true);
    expect(placement.files.map(({ file }: { file: string }) => file)).toHaveLength(2);
    const written = readdirSync(out);
    for (const name of [
      'answers.png',
      'answers.svg',
      'answer-1.png',
      'pieces-1.png',
      'cloth-1.png',
      'place.html',
      'place.json',
    ])
      expect(written).toContain(name);
    // Written again over a plan that is there: not without being told to.
    const again = await runCommand(folder, [
      'plan',
      '--model',
      MODEL,
      '--pieces',
      join(folder, 'gore.pieces.json'),
      '--out',
      planFile,
    ]);
    expect(again.code).toBe(2);
    expect(again.err).toContain('--replace');
  });

  test('musts that contradict end with 12, one line, and nothing written', async () => {
    const planFile = join(folder, 'never.plan.json');
    const lands = (id: string, point: string) => ({
      id,
      kind: 'lands',
      copy: 'gore-left',
      point,
      band: 'b3',
      must: true,
      within: 0.1,
    });
    writeFileSync(
      planFile,
      JSON.stringify({
        format: 'stripewright.plan',
        version: 1,
        units: 'mm',
        cloth: { model: MODEL, one_way: false },
        pieces: 'gore.pieces.json',
        wishes: [lands('low', 'low-left'), lands('high', 'high-right')],
      }),
    );
    const out = join(folder, 'never');
    const { code, err: stderr } = await runCommand(folder, ['place', planFile, '--out', out]);
    expect(code).toBe(12);
    expect(stderr.trim().split('\n')).toHaveLength(1);
    expect(stderr).toContain('"low" and "high"');
    expect(readdirSync(folder)).not.toContain('never');
  });

  test('a plan that is none ends with 3 and says what is wrong', async () => {
    const planFile = join(folder, 'broken.plan.json');
    writeFileSync(
      planFile,
      '{ "format": "stripewright.plan", "version": 1, "units": "mm", "cloth": {}, "pieces": "gore.pieces.json" }',
    );
    const { code, err: stderr } = await runCommand(folder, ['place', planFile]);
    expect(code).toBe(3);
    expect(stderr).toContain('cloth.model');
  });
});
