import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { bandModelSchema } from '../../../src/core/model/band-model-schema.js';
import { parseBandModel } from '../../../src/core/model/parse-band-model.js';
import { typedModelSchema } from '../../../src/core/model/typed-model-schema.js';

// Made here and not by the project's own validators: what is published must hold by itself.
const accepted = new Ajv2020({ allowUnionTypes: true }).compile(typedModelSchema);
const written = new Ajv2020({ allowUnionTypes: true }).compile(bandModelSchema);
const example = typedModelSchema.examples[0];
const check = { repeat: { across_mm: 9 }, bands: [{ id: 'c1', colour: 'A', width_mm: 9 }] };

const read = async (value: unknown) => {
  const outcome = await parseBandModel(JSON.stringify(value));
  return outcome.ok ? outcome.value : null;
};

/** Paths of all fields, those of the first item of each list among them. */
function pathsOf(value: unknown, path: readonly string[] = []): string[][] {
  if (typeof value !== 'object' || value === null) return [];
  const entries = Array.isArray(value) ? Object.entries(value.slice(0, 1)) : Object.entries(value);
  return entries.flatMap(([key, item]) => [
    ...(Array.isArray(value) ? [] : [[...path, key]]),
    ...pathsOf(item, [...path, key]),
  ]);
}

function without(value: object, path: readonly string[]): object {
  const copy = structuredClone(value) as Record<string, unknown>;
  const holder = path.slice(0, -1).reduce((at, key) => at[key] as Record<string, unknown>, copy);
  delete holder[path[path.length - 1]];
  return copy;
}

describe('the schema of typed models', () => {
  it('accepts its example, which then is whole', async () => {
    expect(accepted(example)).toBe(true);
    expect(written(example)).toBe(false);
    expect(written(await read(example))).toBe(true);
  });

  it('accepts what is written, but for the photo', async () => {
    const whole = await read({ ...example, check });
    expect(accepted(whole)).toBe(true);
    const photo = { file: 'ticking.jpg', width_px: 1, height_px: 1, sha256: 'ab'.repeat(32) };
    expect(accepted({ ...whole, photo })).toBe(false);
    expect(written({ ...whole, photo })).toBe(true);
  });

  it('requires no field that is not needed to read the model, and every one that is', async () => {
    const whole = (await read({ ...example, check })) as object;
    const paths = pathsOf(whole);
    expect(paths.length).toBeGreaterThan(50);
    for (const path of paths) {
      const less = without(whole, path);
      const model = await read(less);
      expect(accepted(less), path.join('.')).toBe(model !== null);
      if (model !== null) expect(written(model), path.join('.')).toBe(true);
    }
    expect(paths.filter((path) => !accepted(without(whole, path))).map((path) => path.join('.'))).toEqual(
      expect.arrayContaining(['repeat', 'repeat.across_mm', 'bands.0.width_mm', 'symmetry.balanced']),
    );
  });

  it('leaves nothing out of a model that has a photo', async () => {
    const photo = { file: 'ticking.jpg', width_px: 1, height_px: 1, sha256: 'ab'.repeat(32) };
    const outcome = await parseBandModel(JSON.stringify({ ...example, photo }));
    expect(outcome.ok ? '' : outcome.refusal.found).toContain('is missing');
  });
});
