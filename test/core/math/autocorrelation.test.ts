import { describe, expect, it } from 'vitest';
import { autocorrelation } from '../../../src/core/math/autocorrelation.js';

const folded = (levels: readonly number[], each: number, repeats: number): Float64Array =>
  Float64Array.from(
    { length: levels.length * each * repeats },
    (_, i) => levels[Math.floor(i / each) % levels.length],
  );

describe('autocorrelation', () => {
  it('is one at every multiple of an exact repeat', () => {
    const r = autocorrelation([folded([0.9, 0.2, 0.4], 7, 20)]);
    for (const k of [0, 1, 2, 5]) expect(r[21 * k]).toBeCloseTo(1, 9);
  });

  it('is that of a cosine for a cosine', () => {
    const n = 2000;
    const period = 50;
    const wave = Float64Array.from({ length: n }, (_, i) => Math.cos((2 * Math.PI * i) / period));
    const r = autocorrelation([wave]);
    for (const lag of [0, 10, 25, 50]) expect(r[lag]).toBeCloseTo(Math.cos((2 * Math.PI * lag) / period), 1);
  });

  it('nearly repeats at half of A B A C with B close to C: 0.97661 for levels .9 .2 .9 .3 (closed form)', () => {
    const r = autocorrelation([folded([0.9, 0.2, 0.9, 0.3], 10, 50)]);
    // About the mean 0.575: (2 * 0.325^2 + 2 * 0.375 * 0.275) / (2 * 0.325^2 + 0.375^2 + 0.275^2) = 0.97661.
    expect(r[20]).toBeCloseTo(0.97661, 4);
    expect(r[40]).toBeCloseTo(1, 9);
  });
});
