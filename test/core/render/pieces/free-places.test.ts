import { describe, expect, it } from 'vitest';
import { FreePlaces } from '../../../../src/core/render/pieces/free-places.js';

const page = { left: 0, right: 100, top: 0, bottom: 50 };

describe('places for words', () => {
  it('are taken once, in the order they are wished for', () => {
    const free = new FreePlaces(page);
    const places = [
      { x: 20, y: 20, anchor: 'start' },
      { x: 20, y: 30, anchor: 'middle' },
    ] as const;
    expect(free.firstFree('hem', 2, places)).toBe(places[0]);
    expect(free.firstFree('hem', 2, places)).toBe(places[1]);
    expect(free.firstFree('hem', 2, places)).toBeNull();
  });

  it('lie within the page and clear of what is taken', () => {
    const free = new FreePlaces(page);
    free.take({ left: 60, right: 61, top: 18, bottom: 19 });
    expect(free.firstFree('shoulder', 2, [{ x: 99, y: 20, anchor: 'start' }])).toBeNull();
    expect(free.firstFree('shoulder', 2, [{ x: 56, y: 20, anchor: 'start' }])).toBeNull();
    expect(free.firstFree('shoulder', 2, [{ x: 58, y: 20, anchor: 'end' }])).not.toBeNull();
  });
});
