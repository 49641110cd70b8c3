import { describe, expect, it } from 'vitest';
import { measureCloth } from '../../../src/core/pipeline/measure-cloth.js';
import { checklikePrints, checkOrPrintFaults, wovenChecks } from '../../support/check-or-print-scenes.js';
import { FLAT_PX_PER_MM, type FlatCloth, flatCloth } from '../../support/flat-cloth.js';

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
  // Bands so narrow that half the photo's size shows no single edge of them.
  ['gingham, fine', 3],
  // At the corners of the view print covers most of what is seen of a band.
  ['dashes across a band', 37],
  // Dark bars on pale stripes run on as far as the stripes, and are a few rows high.
  ['bars on pale stripes', 90],
  ['bars on pale stripes', 128],
];

/** Bars along and bars across on plain cloth, as long and as near each other: either might be stripes that something lies on. */
const evenlyCrossed: Omit<FlatCloth, 'turnDeg' | 'seed'> = {
  bands: [{ colour: '#ebe2cb', widthMm: 26 }],
  print: (u, v) => {
    const within = (mm: number, from: number, to: number): boolean => {
      const at = mm - 26 * Math.floor(mm / 26);
      return at >= from && at < to;
    };
    if (within(u, 0, 5) && within(v, 5, 25)) return '#2b3a67';
    return within(v, 0, 4) && within(u, 5, 25) ? '#8b3a2b' : null;
  },
};

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

  it('warns where as much of the cloth can be read either way', () => {
    const photo = flatCloth({ ...evenlyCrossed, turnDeg: 90, seed: 5 });
    const outcome = measureCloth(photo, { kind: 'density', pxPerMm: FLAT_PX_PER_MM });
    const warnings = outcome.ok ? outcome.value.model.warnings : [];
    const doubt = warnings.find(({ code }) => code === 'direction-unsure');
    expect(doubt?.message).toMatch(/give (90|0) as their direction\.$/);
  });
});
