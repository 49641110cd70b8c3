import { describe, expect, it } from 'vitest';
import { centreOfArc, ellipseAt, flattenedArc } from '../../../src/core/pieces/drawn/curves.js';
import { joinedLines } from '../../../src/core/pieces/drawn/join-lines.js';
import { outlineFault } from '../../../src/core/pieces/geometry/check-shape.js';
import { type Facts, factLines, readFact } from '../../../src/core/pieces/piece/facts-text.js';
import { gore } from '../../support/pieces/small-pieces.js';

describe('centreOfArc', () => {
  // From the centre to end points by SVG 1.1, appendix F.6.4, written out here: (x, y) = R(turn) (rx cos a, ry sin a) + centre.
  it.each([
    [30, 20, 0, 0.3, 1.2],
    [30, 20, 25, -2, -1.9],
    [80, 15, 100, 1, 4.5],
    [50, 50, 0, 3, -5.5],
  ])('finds radii %f, %f turned by %f again, from %f over %f', (rx, ry, turnDeg, from, sweep) => {
    const turn = (turnDeg * Math.PI) / 180;
    const at = (a: number): [number, number] => [
      7 + Math.cos(turn) * rx * Math.cos(a) - Math.sin(turn) * ry * Math.sin(a),
      -3 + Math.sin(turn) * rx * Math.cos(a) + Math.cos(turn) * ry * Math.sin(a),
    ];
    const arc = centreOfArc({
      from: at(from),
      to: at(from + sweep),
      radii: [rx, ry],
      turnDeg,
      large: Math.abs(sweep) > Math.PI,
      positive: sweep > 0,
    })!;
    expect(arc.centre[0]).toBeCloseTo(7, 9);
    expect(arc.centre[1]).toBeCloseTo(-3, 9);
    expect(arc.sweep).toBeCloseTo(sweep, 9);
    const [x, y] = ellipseAt(arc, arc.from + sweep / 3);
    expect(x).toBeCloseTo(at(from + sweep / 3)[0], 9);
    expect(y).toBeCloseTo(at(from + sweep / 3)[1], 9);
  });

  // F.6.2 and F.6.6: a radius of nought is a straight line, one point nothing; radii that do not reach are scaled up; signs do not count.
  it('treats radii out of range as the standard does', () => {
    const arc = { from: [0, 0], to: [10, 0], turnDeg: 0, large: false, positive: true } as const;
    expect(centreOfArc({ ...arc, radii: [0, 5] })).toBeNull();
    expect(centreOfArc({ ...arc, to: [0, 0], radii: [5, 5] })).toBeNull();
    expect(centreOfArc({ ...arc, radii: [-1, 1] })?.radii).toEqual([5, 5]);
    expect(centreOfArc({ ...arc, radii: [-1, 1] })?.centre).toEqual([5, 0]);
  });

  it('is flattened to 0.01 mm where it is stretched as well', () => {
    const arc = { centre: [0, 0], radii: [10, 10], turn: 0, from: 0, sweep: 2 * Math.PI } as const;
    const points = flattenedArc(arc, [20, 0, 0, 1, 0, 0]);
    const inside = points.map(([x, y], i) => {
      const [u, v] = points[(i + 1) % points.length];
      return 1 - Math.hypot((x + u) / 400, (y + v) / 20);
    });
    // Of the ellipse 200 by 10, at its flat sides.
    expect(Math.max(...inside) * 10).toBeLessThan(0.0101);
    expect(points.length).toBeLessThan(400);
  });
});

describe('joinedLines', () => {
  const stroke = (...points: [number, number][]) => ({ points, closed: false });
  it('joins strokes whose ends are within 0.05 mm, whichever way they were drawn', () => {
    const gap = (by: number) =>
      joinedLines([stroke([0, 0], [50, 0]), stroke([50, 80], [50, by]), stroke([0, 0], [0, 80], [50, 80])]);
    expect(gap(0.04)).toMatchObject([{ closed: true }]);
    expect(gap(0.04)[0].points).toHaveLength(4);
    expect(gap(0.06)).toMatchObject([{ closed: false }]);
  });
});

describe('outlineFault', () => {
  const square = (side: number): [number, number][] => [
    [0, 0],
    [side, 0],
    [side, side],
    [0, side],
  ];
  it('takes pieces up to 10 m and down to 1 mm2', () => {
    expect(outlineFault(square(9_990), 'line')).toBeNull();
    expect(outlineFault(square(10_010), 'line')).toMatch(/10 m at most/);
    expect(outlineFault(square(1.01), 'line')).toBeNull();
    expect(outlineFault(square(0.9), 'line')).toMatch(/no area/);
  });

  it('finds a crossing far from the first point, and a corner that touches an edge', () => {
    const wave: [number, number][] = Array.from({ length: 2000 }, (_, i) => [i / 4, 20 * Math.sin(i / 50)]);
    expect(outlineFault([...wave, [500, 300], [0, 300]], 'line')).toBeNull();
    expect(outlineFault([...wave, [500, 300], [400, -40], [0, 300]], 'line')).toMatch(/crosses or touches/);
    expect(
      outlineFault(
        [
          [0, 0],
          [100, 0],
          [100, 100],
          [50, 0],
          [0, 100],
        ],
        'line',
      ),
    ).toMatch(/at \(50, 0\)/);
  });
});

describe('facts as lines of text', () => {
  const factsOf = (lines: readonly string[]): Facts =>
    lines.reduce<Facts>((facts, line) => {
      const next = readFact(line, facts);
      if (next === null || typeof next === 'string') throw new Error(`not read: ${line}`);
      return next;
    }, {});

  it('read again what they say, odd names too', () => {
    const copies = [
      { id: 'a, "b"', mirrored: true },
      { id: 'c mirrored', mirrored: false },
      { id: 'd', mirrored: true },
    ];
    const facts = factsOf(factLines(gore({ copies, stripes: { to: 'side, turned 3', angle_deg: -7.25 } })));
    expect(facts).toEqual({
      name: 'Side gore',
      allowance: '15 mm',
      copies,
      stripes: { to: 'side, turned 3', angle_deg: -7.25 },
    });
  });

  it('are not seen in other words', () => {
    for (const words of ['piece gore', 'hem', 'cut two', 'copies', 'the name: gore'])
      expect(readFact(words, {})).toBeNull();
    expect(readFact('stripes: up', {})).toMatch(/not understood, expected such as/);
  });
});
