import { describe, expect, it } from 'vitest';
import { STROKE_GLYPHS } from '../../../src/core/render/stroke-glyphs.js';
import { strokeText, textWidth, wrapText } from '../../../src/core/render/stroke-text.js';

/** All numbers of a path, as points. */
const pointsOf = (svg: string): [number, number][] => {
  const numbers = (/ d="([^"]*)"/.exec(svg)?.[1].match(/-?[\d.]+/g) ?? []).map(Number);
  return numbers.flatMap((x, i) => (i % 2 === 0 ? [[x, numbers[i + 1]] as [number, number]] : []));
};

describe('single-line lettering', () => {
  it('has every letter, digit and mark that pictures use', () => {
    const used =
      'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789 .,:;-–+/()[]%!?\'"#&*<>=_|°·×→±';
    expect([...used].filter((c) => !(c in STROKE_GLYPHS))).toEqual([]);
  });

  it('keeps every glyph inside its own width and the line', () => {
    for (const [c, [width]] of Object.entries(STROKE_GLYPHS)) {
      for (const [x, y] of pointsOf(strokeText(c, 0, 0, { size: 7 }))) {
        expect(x, c).toBeGreaterThan(-0.75);
        expect(x, c).toBeLessThan(width + 0.75);
        expect(y, c).toBeGreaterThan(-8.6);
        expect(y, c).toBeLessThan(2.9);
      }
    }
  });

  it('sets text from its start, middle or end, and scales with its size', () => {
    const spread = (anchor: 'start' | 'middle' | 'end'): [number, number] => {
      const xs = pointsOf(strokeText('HIH', 100, 0, { size: 10, anchor })).map(([x]) => x);
      return [Math.min(...xs), Math.max(...xs)];
    };
    const width = textWidth('HIH', 10);
    expect(spread('start')).toEqual([100, expect.closeTo(100 + width, 2)]);
    expect(spread('end')).toEqual([expect.closeTo(100 - width, 2), expect.closeTo(100, 2)]);
    expect(spread('middle')[0]).toBeCloseTo(100 - width / 2, 2);
    expect(textWidth('HIH', 20)).toBeCloseTo(2 * width, 9);
  });

  it('shrinks to fit, drops accents, and boxes what it lacks', () => {
    const xs = pointsOf(strokeText('a long line of words', 0, 0, { size: 10, fitWidth: 50 })).map(([x]) => x);
    expect(Math.max(...xs)).toBeLessThan(50.2);
    expect(strokeText('écru', 0, 0, { size: 5 })).toBe(strokeText('ecru', 0, 0, { size: 5 }));
    expect(pointsOf(strokeText('藍', 0, 0, { size: 5 })).length).toBe(5);
  });

  it('breaks lines between words and loses none', () => {
    const text = 'one half must lie head to tail, or the bands will not meet';
    const lines = wrapText(text, 40, 3);
    expect(lines.length).toBeGreaterThan(2);
    expect(lines.join(' ')).toBe(text);
    for (const line of lines) expect(textWidth(line, 3)).toBeLessThanOrEqual(40);
  });
});
