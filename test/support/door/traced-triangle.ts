import type { TracedPaper } from '../../../src/index.js';

/** A triangle of paper seen from straight above, as a trace gives it: a photo of 120 by 110 px at 1 px/mm. */
export const tracedTriangle = (): TracedPaper => {
  const camera = {
    widthPx: 120,
    heightPx: 110,
    focalPx: 100,
    tiltX: 0,
    tiltY: 0,
    spin: 0,
    distanceMm: 100,
    k1: 0,
  };
  const reference = {
    source: 'ruler',
    unit: 'mm',
    marks: [],
    sideMarks: [],
    markSdPx: 0.1,
    levelSdPx: 0.1,
    pxPerMm: 1,
    relativeSd: 0.001,
    rulerClass: null,
    ends: [
      [5, 100],
      [105, 100],
    ],
    lengthMm: 100,
    corners: null,
    outline: null,
    isClear: false,
    ticks: [],
  } as const;
  const shape = {
    outline: [
      [0, 0],
      [60, 0],
      [0, 40],
    ],
    corners: [],
    notches: [[30, 0]],
    scatterMm: 0.1,
    line: 'edge',
    outlineSdMm: 0.2,
    hiddenMm: 0,
    dartMm: 0,
    coveredMm: 0,
    isOpen: false,
    grain: { foot: [10, 5], head: [10, 20], sdDeg: 0.5, heads: 1 },
  } as const;
  return {
    scale: { references: [reference], things: [] },
    plane: { camera, tiltSdDeg: 1, markRmsMm: 0.1, others: [] },
    pieces: [shape],
  };
};
