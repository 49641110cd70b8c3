import { describe, expect, it } from 'vitest';
import { normalCdf } from '../../../src/core/math/folded-normal.js';
import { edgeBlur } from '../../../src/core/stripes/edge-blur.js';
import { sharpenBands } from '../../../src/core/stripes/sharpen-bands.js';

const INDIGO = [0.023, 0.042, 0.125];
const IVORY = [0.83, 0.76, 0.6];
const OCHRE = [0.51, 0.24, 0.04];

/** Steps between bands, each the integral of a Gaussian: the closed form of a blurred edge. */
function blurred(
  columns: number,
  edges: readonly number[],
  colours: readonly (readonly number[])[],
  sigma: number,
) {
  return Float64Array.from({ length: 3 * columns }, (_, i) => {
    const x = Math.floor(i / 3) + 0.5;
    const c = i % 3;
    return edges.reduce(
      (v, e, k) => v + normalCdf((x - e) / sigma) * (colours[k + 1][c] - colours[k][c]),
      colours[0][c],
    );
  });
}

describe('edgeBlur', () => {
  it.each([0.8, 1.2, 2, 3, 4])('measures a blur of %f columns to a tenth', (sigma) => {
    const profile = blurred(400, [60.3, 120.8, 250.1, 330.6], [INDIGO, IVORY, OCHRE, IVORY, INDIGO], sigma);
    expect(Math.abs(edgeBlur(profile, 0, 400) / sigma - 1)).toBeLessThan(0.1);
  });

  it('takes a slow fall of light for no edge', () => {
    const profile = blurred(400, [100.5, 180.2, 260.9], [INDIGO, IVORY, INDIGO, IVORY], 1.1).map(
      (v, i) => v * (1 - i / 3000),
    );
    expect(edgeBlur(profile, 0, 400)).toBeCloseTo(1.1, 1);
  });
});

describe('sharpenBands', () => {
  it('gives a line of three columns its own colour and width, not what the blur leaves', () => {
    const edges = [40.37, 43.41, 90.8];
    const profile = blurred(140, edges, [INDIGO, OCHRE, INDIGO, IVORY], 1.1);
    const bands = sharpenBands(profile, 0, 140, [41, 43, 90], 1.1);
    edges.forEach((e, i) => {
      expect(Math.abs(bands[i].to - e)).toBeLessThan(0.12);
    });
    OCHRE.forEach((v, c) => {
      expect(Math.abs(bands[1].linear[c] - v)).toBeLessThan(0.03);
    });
    expect(bands[0].from).toBe(0);
    expect(bands[3].to).toBe(140);
  });

  it('leaves what is right where it is', () => {
    const edges = [50, 75.5, 120.25];
    const colours = [IVORY, INDIGO, OCHRE, IVORY];
    const bands = sharpenBands(blurred(160, edges, colours, 0.9), 0, 160, edges, 0.9);
    edges.forEach((e, i) => {
      expect(bands[i].to).toBeCloseTo(e, 3);
    });
    colours.forEach((colour, i) => {
      colour.forEach((v, c) => {
        expect(bands[i].linear[c]).toBeCloseTo(v, 4);
      });
    });
  });
});
