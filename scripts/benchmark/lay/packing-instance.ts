import { readFileSync } from 'node:fs';
import type { Choice, FitProblem, FitShape } from '../../../src/core/lay/fit/fit-problem.js';
import { noFitStore } from '../../../src/core/lay/nofit/no-fit-store.js';
import { ringOf } from '../../../src/core/lay/nofit/ring.js';
import type { Point } from '../../../src/core/math/matrix3.js';
import { extentOf, signedAreaMm2 } from '../../../src/core/pieces/geometry/outline.js';

interface InstanceFile {
  readonly name: string;
  readonly strip_height: number;
  readonly items: readonly {
    readonly id: number;
    readonly demand: number;
    readonly allowed_orientations?: readonly number[];
    readonly shape: { readonly type: string; readonly data: readonly Point[] };
  }[];
}

/** A published instance of packing a strip: pieces on plain cloth, no margin, turned only as the instance allows. */
export interface PackingInstance {
  readonly name: string;
  readonly problem: FitProblem;
  /** The outline of each of the problem's shapes. */
  readonly outlines: readonly (readonly Point[])[];
  readonly widthMm: number;
}

const ENDLESS = 1e6;

export function readPackingInstance(file: string): PackingInstance {
  const { name, strip_height, items } = JSON.parse(readFileSync(file, 'utf8')) as InstanceFile;
  const shapes: FitShape[] = [];
  const outlines: Point[][] = [];
  const listed = items.flatMap(({ shape, demand, allowed_orientations }) => {
    const choices = (allowed_orientations ?? [0]).map((degrees): Choice => {
      const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
      const outline = shape.data.map(([x, y]): Point => [c * x - s * y, s * x + c * y]);
      outlines.push(outline);
      shapes.push({
        ring: ringOf(outline),
        extent: extentOf(outline),
        areaMm2: Math.abs(signedAreaMm2(outline)),
      });
      return { shape: shapes.length - 1, columns: null, slides: null };
    });
    return Array.from({ length: demand }, () => ({ choices: [choices] }));
  });
  return {
    name,
    outlines,
    widthMm: strip_height,
    problem: {
      shapes,
      noFitOf: noFitStore(),
      items: listed,
      bins: [{ room: [0, strip_height, 0, ENDLESS], along: 'slide', blocks: [] }],
    },
  };
}
