import { describe, expect, it } from 'vitest';
import { measureCloth } from '../../../src/core/pipeline/measure-cloth.js';
import { checklikePrints, checkOrPrintFaults, wovenChecks } from '../../support/check-or-print-scenes.js';
import { FLAT_PX_PER_MM, flatCloth } from '../../support/flat-cloth.js';

/** The whole sweep is in the benchmark of prints; here are those that were mistaken once, and one of each kind. */
const CASES: readonly (readonly [string, number])[] = [
  ['gingham, oblong', 37],
  ['windowpane, faint across', 90],
  ['ticking with faint lines', 37],
  ['few lines', 3],
  ['unequal repeats', 128],
  ['squares in rows', 90],
  ['dashes across a band', 90],
  ['bars across several bands', 37],
  ['bars nearly touching', 3],
  ['squares on pale stripes', 37],
  ['crosses', 90],
];

const scenes = [...wovenChecks(), ...checklikePrints()];

function measured(name: string, turnDeg: number) {
  const scene = scenes.find((one) => one.name === name);
  if (!scene) throw new Error(`no scene "${name}"`);
  const photo = flatCloth({ ...scene.cloth, turnDeg, seed: 5 });
  const outcome = measureCloth(photo, { kind: 'density', pxPerMm: FLAT_PX_PER_MM });
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return { scene, model: outcome.value.model };
}

describe('a check is not mistaken for motifs, nor motifs for a check', () => {
  it.each(CASES)('%s at %d degrees', (name, turnDeg) => {
    const { scene, model } = measured(name, turnDeg);
    expect(checkOrPrintFaults(scene, model)).toEqual([]);
  });

  it('warns where bars across pale stripes run on as far as the stripes', () => {
    const { model } = measured('bars on pale stripes', 90);
    const doubt = model.warnings.find(({ code }) => code === 'direction-unsure');
    expect(doubt?.message).toMatch(/give --direction (90|0)\.$/);
  });
});
