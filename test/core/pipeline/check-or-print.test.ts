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
  ['dashes across a band', 37],
  ['bars across several bands', 37],
  ['bars nearly touching', 3],
  ['squares on pale stripes', 37],
  ['crosses', 90],
];

describe('a check is not mistaken for motifs, nor motifs for a check', () => {
  const scenes = [...wovenChecks(), ...checklikePrints()];
  it.each(CASES)('%s at %d degrees', (name, turnDeg) => {
    const scene = scenes.find((one) => one.name === name);
    if (!scene) throw new Error(`no scene "${name}"`);
    const photo = flatCloth({ ...scene.cloth, turnDeg, seed: 5 });
    const measured = measureCloth(photo, { kind: 'density', pxPerMm: FLAT_PX_PER_MM });
    if (!measured.ok) throw new Error(measured.refusal.found);
    expect(checkOrPrintFaults(scene, measured.value.model)).toEqual([]);
  });
});
