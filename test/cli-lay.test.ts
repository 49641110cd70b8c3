import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, test } from 'vitest';
import { laySchema } from '../src/core/lay/answer/lay-schema.js';
import { readPiecesDxf } from '../src/index.js';
import { runCommand } from './support/command.js';
import { panel } from './support/rectangle-pieces.js';

const MODEL = new URL('../samples/ticking.bands.json', import.meta.url).pathname;
let folder = '';

const plan = (fields: object): string => {
  const file = join(folder, `${Math.random().toString(36).slice(2)}.plan.json`);
  const pieces = [
    panel('gore', 90, 260, {
      copies: [
        { id: 'gore-left', mirrored: false },
        { id: 'gore-right', mirrored: true },
      ],
    }),
    panel('sash', 60, 900),
  ];
  const common = {
    format: 'stripewright.plan',
    version: 1,
    units: 'mm',
    cloth: { model: MODEL, one_way: true },
  };
  writeFileSync(file, JSON.stringify({ ...common, pieces, ...fields }));
  return file;
};
const end = { id: 'end', width_mm: 700, length_mm: 1200, stripes: 'lengthwise', b1_start_mm: 6 };

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'stripewright-lay-'));
});

describe('lay', () => {
  test('writes the lay by its schema, drawn and as DXF that is read again', async () => {
    const out = join(folder, 'laid');
    const run = await runCommand(folder, ['lay', plan({ lengths: [end] }), '--out', out, '--rounds', '50']);
    expect(run.err).toBe('');
    expect(run.code).toBe(0);
    expect(run.out).toContain('All 3 pieces fit');
    expect(readdirSync(out).sort()).toEqual(['lay.dxf', 'lay.json', 'lay.png', 'lay.svg']);
    const lay = JSON.parse(readFileSync(join(out, 'lay.json'), 'utf8'));
    const ajv = new Ajv2020({ allowUnionTypes: true });
    expect(ajv.validate(laySchema, lay), JSON.stringify(ajv.errors)).toBe(true);
    const svg = readFileSync(join(out, 'lay.svg'), 'utf8');
    for (const layer of ['cloth', 'bands', 'cutting', 'stitching', 'grain', 'labels'])
      expect(svg).toContain(`inkscape:label="${layer}"`);
    expect(svg).toMatch(/width="[\d.]+mm"/);
    const read = readPiecesDxf(readFileSync(join(out, 'lay.dxf'), 'utf8'));
    expect(read.ok && read.value.pieces.map(({ id }) => id)).toEqual(['gore', 'sash']);
  });

  test('what does not fit is an answer: 0, what is short, and a drawing of what would help', async () => {
    const out = join(folder, 'short');
    const short = plan({ lengths: [{ ...end, length_mm: 700 }] });
    const run = await runCommand(folder, ['lay', short, '--out', out, '--rounds', '50']);
    expect(run.code).toBe(0);
    expect(run.out).toContain('do not fit');
    expect(run.out).toMatch(/See remedy-\d\.png/);
    expect(readdirSync(out).some((name) => /^remedy-\d\.svg$/.test(name))).toBe(true);
  });

  test('wrong use ends with 2, what cannot be used with 3, in one line', async () => {
    const good = plan({ lengths: [end] });
    const both = await runCommand(folder, ['lay', good, '--seconds', '1', '--rounds', '5']);
    expect([both.code, both.err.trim().split('\n').length]).toEqual([2, 1]);
    const none = await runCommand(folder, ['lay', plan({})]);
    expect(none.code).toBe(3);
    expect(none.err).toContain('"lengths"');
    const unknown = await runCommand(folder, [
      'lay',
      plan({ lengths: [{ ...end, b1_start_mm: undefined }] }),
    ]);
    expect(unknown.code).toBe(3);
    expect(unknown.err).toContain('b1_start_mm');
    const placed = await runCommand(folder, ['place', good, '--json']);
    writeFileSync(join(folder, 'place.json'), placed.out);
    const other = await runCommand(folder, [
      'lay',
      plan({ lengths: [end], margin_mm: 5 }),
      '--placement',
      join(folder, 'place.json'),
    ]);
    expect(other.code).toBe(3);
    expect(other.err).toContain('another plan');
  });
});
