import type { Point } from '../math/matrix3.js';

/** Where a ruler's body is cut across: the middle, and from there to the side away from its marks; picture px. */
export interface Section {
  readonly mid: Point;
  readonly half: Point;
}

/** How a body goes on from one of its ends, for each step along it. */
export interface Course {
  readonly section: Section;
  /** From one middle to the next, px. */
  readonly ahead: Point;
  /** How `half` grows where the body is seen aslant, px. */
  readonly taper: Point;
  /** Radians. */
  readonly turn: number;
}

/** The sections of an outline: its first half runs along one long side, its second back along the other. */
export function sectionsOf(outline: readonly Point[]): Section[] {
  const n = outline.length / 2;
  return outline.slice(0, n).map(([x, y], i) => {
    const [tx, ty] = outline[2 * n - 1 - i];
    return { mid: [(x + tx) / 2, (y + ty) / 2], half: [(tx - x) / 2, (ty - y) / 2] };
  });
}

export const outlineOf = (sections: readonly Section[]): Point[] => [
  ...sections.map(({ mid, half }): Point => [mid[0] - half[0], mid[1] - half[1]]),
  ...[...sections].reverse().map(({ mid, half }): Point => [mid[0] + half[0], mid[1] + half[1]]),
];

/** The place between the sides, 0 (that of the marks) to 1. */
export const acrossAt = ({ mid, half }: Section, across: number): Point => [
  mid[0] + (2 * across - 1) * half[0],
  mid[1] + (2 * across - 1) * half[1],
];

/** How the body goes on beyond the last section: straight on from two, in the curve of the last three. */
export function courseBeyond(sections: readonly Section[], stepPx: number): Course {
  const [last, before, third] = [...sections].reverse();
  const chord = from(before.mid, last.mid);
  const length = Math.hypot(...chord);
  const steps = length / stepPx;
  const turn = third === undefined ? 0 : turnBetween(from(third.mid, before.mid), chord) / steps;
  return {
    section: last,
    // A chord points where the curve did in its middle.
    ahead: turned([chord[0] / steps, chord[1] / steps], (turn * steps) / 2),
    // What turns with the body is no taper.
    taper:
      third === undefined
        ? [(last.half[0] - before.half[0]) / steps, (last.half[1] - before.half[1]) / steps]
        : [0, 0],
    turn,
  };
}

/** One step on, turning by `turn`. */
export function advanced({ section, ahead, taper }: Course, turn: number): Course {
  const on = turned(ahead, turn);
  const half = turned([section.half[0] + taper[0], section.half[1] + taper[1]], turn);
  return {
    section: { mid: [section.mid[0] + on[0], section.mid[1] + on[1]], half },
    ahead: on,
    taper: turned(taper, turn),
    turn,
  };
}

const from = (p: Point, q: Point): Point => [q[0] - p[0], q[1] - p[1]];

const turned = ([x, y]: Point, by: number): Point => [
  x * Math.cos(by) - y * Math.sin(by),
  x * Math.sin(by) + y * Math.cos(by),
];

const turnBetween = (p: Point, q: Point): number =>
  Math.atan2(p[0] * q[1] - p[1] * q[0], p[0] * q[0] + p[1] * q[1]);
