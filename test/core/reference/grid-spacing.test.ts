import { describe, expect, it } from 'vitest';
import { gridSpacing } from '../../../src/core/reference/grid-spacing.js';

describe('gridSpacing', () => {
  const inches = Array.from({ length: 14 }, (_, i) => 8 * i);

  it('counts the ticks from line to line', () => {
    expect(gridSpacing(inches)).toBe(8);
    expect(gridSpacing(inches.map((k, i) => k + (i % 2 ? 0.2 : -0.1)))).toBe(8);
  });

  it('counts on over lines that are missed', () => {
    expect(gridSpacing(inches.filter((_, i) => i !== 3 && i !== 7))).toBe(8);
  });

  it('knows half marks of both edges that pass for lines by the places where they do not', () => {
    const halves = [4, 28, 76, 92, 100];
    expect(gridSpacing([...inches, ...halves].sort((a, b) => a - b))).toBe(8);
  });

  it('keeps to half the spacing where all lines of it are there', () => {
    expect(gridSpacing(Array.from({ length: 27 }, (_, i) => 4 * i))).toBe(4);
  });

  it('says nothing of two lines, nor of lines at any place', () => {
    expect(gridSpacing([0, 8, 16])).toBeNull();
    expect(gridSpacing([0, 5.4, 13.1, 17.5, 27.4, 30.9])).toBeNull();
  });
});
