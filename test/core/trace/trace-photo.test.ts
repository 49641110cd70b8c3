import { describe, expect, it } from 'vitest';
import { scorePiece } from '../../../scripts/benchmark/trace/score-trace.js';
import { tracePaper } from '../../../src/core/pipeline/trace/trace-paper.js';
import type { Photo } from '../../../src/core/raster/photo.js';
import { cv } from '../../support/opencv.js';
import { layShape } from '../../support/paper-painter/lay-sheet.js';
import { paintPaperPhoto } from '../../support/paper-painter/paint-paper-photo.js';
import type { PaperScene } from '../../support/paper-painter/paper-scene.js';
import { paperTruth } from '../../support/paper-painter/paper-truth.js';
import { pieceShape } from '../../support/paper-painter/piece-shape.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

/** A gore with a curved side and a grain line on dark cloth beside an A4 sheet, seen 9 degrees aslant. */
function goreScene(): PaperScene {
  const gore = pieceShape(
    [-70, -150],
    [
      { to: [70, -150] },
      {
        to: [34, 150],
        by: [
          [60, -50],
          [36, 90],
        ],
      },
      { to: [-34, 150] },
      { to: [-70, -150] },
    ],
  );
  const sheet = layShape(
    gore,
    {
      atMm: [-110, 0],
      turnDeg: 12,
      drawn: false,
      notches: 0,
      heads: 1,
      decoys: 1,
      creases: 0,
      material: 'brown',
      pen: '#20242c',
    },
    seededRandom(8),
  );
  return {
    name: 'gore',
    seed: 3,
    ground: { kind: 'cloth', colour: '#26262a', threadMm: 0.8, relief: 0.15 },
    papers: [sheet],
    references: [{ type: 'sheet-a4', atMm: [140, 10], angleDeg: 4, heightMm: 0.1, wear: 0 }],
    weights: [],
    camera: {
      widthPx: 1600,
      heightPx: 1200,
      focal35Mm: 28,
      exifFocal: true,
      exifOrientation: 1,
      distanceMm: 500,
      tiltDeg: [7, -6],
      rollDeg: 0,
      k1: 0.006,
      aimMm: [0, 0],
    },
    light: { exposure: 0.9, gradient: [0.15, -0.1], vignette: 0.1, cast: [1, 1, 1], shadows: [] },
    sensor: { blurPx: 0.8, noiseLevels: 2, jpegQuality: 95 },
    shadow: { offsetMm: [1.5, -1.5], softMm: 2, depth: 0.3 },
    expected: 'traced',
  };
}

describe('a painted photo of paper', () => {
  const scene = goreScene();
  const picture = paintPaperPhoto(scene);
  const truth = paperTruth(scene);
  const photo: Photo = { picture, photoPerPicture: 1, widthPx: 1600, heightPx: 1200, focal35Mm: 28 };
  const traced = tracePaper(photo, { kind: 'sheet', size: 'a4', corners: null });

  it('is traced within its tolerance, its corners and grain line found', () => {
    if (!traced.ok) throw new Error(traced.refusal.found);
    const [piece] = traced.value.pieces;
    expect(traced.value.pieces).toHaveLength(1);
    const score = scorePiece(truth.pieces[0], {
      outline: piece.outline,
      corners: piece.corners.map(({ at }) => at),
      notches: piece.notches,
      grain: piece.grain
        ? { ...piece.grain, found: true }
        : { foot: [0, 0], head: [0, 1], found: false, heads: 0 },
      outlineSdMm: piece.outlineSdMm,
    });
    expect(score.meanMm).toBeLessThan(0.3);
    expect(score.worstMm).toBeLessThan(1);
    expect(Math.abs(score.areaPercent)).toBeLessThan(0.5);
    expect([score.cornersFound, score.cornersMissed, score.cornersExtra]).toEqual([4, 0, 0]);
    expect(score.cornerWorstMm).toBeLessThan(1);
    expect(score.grain).toBe('right');
    expect(score.grainDeg).toBeLessThan(0.3);
  });

  it('has the area that OpenCV finds by threshold, contour and its own homography', () => {
    if (!traced.ok) throw new Error(traced.refusal.found);
    const [piece] = traced.value.pieces;
    // On this dark cloth a threshold in the red channel tells paper and sheet; the largest two contours are they.
    const red = new Uint8Array(1600 * 1200);
    for (let i = 0; i < red.length; i++) red[i] = picture.data[3 * i];
    const grey = cv.matFromArray(1200, 1600, cv.CV_8UC1, red as unknown as number[]);
    const mask = new cv.Mat();
    cv.threshold(grey, mask, 85, 255, cv.THRESH_BINARY);
    const contours = new cv.MatVector();
    const tree = new cv.Mat();
    cv.findContours(mask, contours, tree, cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
    const found = Array.from({ length: contours.size() }, (_, k) => contours.get(k)).sort(
      (a, b) => cv.contourArea(b) - cv.contourArea(a),
    );
    const [a4, paper] = [found[0], found[1]];
    const quad = new cv.Mat();
    cv.approxPolyDP(a4, quad, 30, true);
    const at = Array.from({ length: 4 }, (_, k) => [quad.data32S[2 * k], quad.data32S[2 * k + 1]]);
    const side = (k: number): number =>
      Math.hypot(at[(k + 1) % 4][0] - at[k][0], at[(k + 1) % 4][1] - at[k][1]);
    const [w, h] = side(0) > side(1) ? [297, 210] : [210, 297];
    const from = cv.matFromArray(4, 1, cv.CV_32FC2, at.flat());
    const to = cv.matFromArray(4, 1, cv.CV_32FC2, [0, 0, w, 0, w, h, 0, h]);
    const map = cv.getPerspectiveTransform(from, to);
    const edge = new cv.Mat();
    paper.convertTo(edge, cv.CV_32FC2);
    const flat = new cv.Mat();
    cv.perspectiveTransform(edge, flat, map);
    const theirs = cv.contourArea(flat);
    const ours = Math.abs(
      piece.outline.reduce((sum, [x, y], k) => {
        const [nx, ny] = piece.outline[(k + 1) % piece.outline.length];
        return sum + x * ny - y * nx;
      }, 0) / 2,
    );
    // Whole pixels, no lens and corners to the pixel: theirs is good to a percent and a half.
    expect(Math.abs(theirs / ours - 1)).toBeLessThan(0.015);
    for (const m of [grey, mask, contours, tree, quad, from, to, map, edge, flat]) m.delete();
  });
});
