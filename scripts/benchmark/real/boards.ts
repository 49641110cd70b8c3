import { homographyFromPoints } from '../../../src/core/math/homography.js';
import { leastSquares } from '../../../src/core/math/levenberg-marquardt.js';
import { transformPoint } from '../../../src/core/math/matrix3.js';
import { focalLength } from '../../../src/core/raster/focal-length.js';
import { clothMap, tiltDegOf } from '../../../src/core/rectify/camera-plane.js';
import { solvePlane } from '../../../src/core/rectify/solve-plane.js';
import { median } from '../compare.js';
import { cornerOrigin, type Point, type RealEntry, type RealRow, realPhoto } from './real-photo.js';

interface Board {
  readonly columns: number;
  readonly rows: number;
  readonly squareMm: number;
  /** Row by row. */
  readonly corners: readonly Point[];
  readonly focalPx: number | null;
}

function boardOf({ truth }: RealEntry): Board | null {
  const inner = truth.corners_px ?? truth.inner_corners_px;
  const size = truth.pattern ?? truth.pattern_squares?.map((n) => n - 1);
  if (!inner || !size) return null;
  return {
    columns: size[0],
    rows: size[1],
    squareMm: truth.square_mm ?? 40,
    corners: inner.map(cornerOrigin),
    focalPx: truth.camera_matrix_documented?.fx ?? null,
  };
}

/**
 * A flat board as if it were cloth: its columns of corners are the stripes, one row of them the ruler's marks. The plane
 * fitted to those is held against the board: every corner's place in mm after the best turn and shift.
 */
export async function boardRow(entry: RealEntry): Promise<RealRow> {
  const board = boardOf(entry);
  if (!board) return { name: entry.file, what: 'board', result: 'no corners listed', right: null };
  const { picture, focal35Mm } = await realPhoto(entry);
  const { columns, rows, squareMm, corners } = board;
  const at = (column: number, row: number) => corners[row * columns + column];
  const x = new Float64Array(columns * rows);
  const y = new Float64Array(columns * rows);
  for (let c = 0; c < columns; c++)
    for (let r = 0; r < rows; r++) [x[c * rows + r], y[c * rows + r]] = at(c, r);
  const middle = rows >> 1;
  const marks = Array.from({ length: columns }, (_, c) => ({
    picture: at(c, middle),
    planeMm: [c * squareMm, 0] as Point,
  }));
  const [from, to] = [at(0, middle), at(columns - 1, middle)];
  const [foot, head] = [at(columns >> 1, 0), at(columns >> 1, rows - 1)];
  const { focalPx, logSd } =
    board.focalPx === null
      ? focalLength(focal35Mm, picture.width, picture.height)
      : { focalPx: board.focalPx, logSd: 0 };
  const plane = solvePlane({
    widthPx: picture.width,
    heightPx: picture.height,
    focalPx,
    focalLogSd: logSd,
    angle: Math.atan2(-(head[1] - foot[1]), head[0] - foot[0]),
    pxPerMm: Math.hypot(to[0] - from[0], to[1] - from[1]) / ((columns - 1) * squareMm),
    edges: {
      edges: columns,
      windows: rows,
      x,
      y,
      sdPx: new Float64Array(columns * rows).fill(0.1),
      blurPx: 1,
    },
    places: Array.from({ length: columns }, (_, c) => ({ band: 0, repeat: c })),
    marks,
    markSdPx: 0.1,
    levelSdPx: 0.1,
    sideMarks: [],
    flat: false,
  });
  const { clothFromPicture } = clothMap(plane.camera);
  const placed = corners.map((corner) => clothFromPicture(...corner));
  const known = corners.map((_, i): Point => [(i % columns) * squareMm, Math.floor(i / columns) * squareMm]);
  const misses = afterBestTurn(placed, known);
  const sorted = [...misses].sort((a, b) => a - b);
  const across = (columns - 1) * squareMm;
  const tilt = tiltDegOf(plane.camera);
  const trueTilt =
    board.focalPx === null ? null : boardTilt(board, board.focalPx, picture.width, picture.height);
  const off = trueTilt === null ? '' : ` (whole board ${trueTilt.toFixed(1)})`;
  return {
    name: entry.file,
    what: `board ${columns} x ${rows}, ${across} mm across`,
    result:
      `corners off by ${median(misses).toFixed(2)} mm, worst ${sorted[sorted.length - 1].toFixed(2)}; ` +
      `tilt ${tilt.toFixed(1)}${off}, sd ${plane.tiltSdDeg.toFixed(1)}; k1 ${plane.camera.k1.toFixed(3)}`,
    // Half a percent of the board's width.
    right: median(misses) <= 0.005 * across,
  };
}

/** Distances that remain between two lists of points after the best turn, mirror and shift; no change of scale. */
function afterBestTurn(from: readonly Point[], to: readonly Point[]): number[] {
  const mean = (list: readonly Point[]): Point => [
    list.reduce((s, p) => s + p[0], 0) / list.length,
    list.reduce((s, p) => s + p[1], 0) / list.length,
  ];
  const tries = [1, -1].map((mirror) => {
    const turned = from.map(([u, v]): Point => [u, mirror * v]);
    const a = mean(turned);
    const b = mean(to);
    let cos = 0;
    let sin = 0;
    turned.forEach(([u, v], i) => {
      const [p, q] = [u - a[0], v - a[1]];
      const [s, t] = [to[i][0] - b[0], to[i][1] - b[1]];
      cos += p * s + q * t;
      sin += p * t - q * s;
    });
    const angle = Math.atan2(sin, cos);
    return turned.map(([u, v], i) => {
      const [p, q] = [u - a[0], v - a[1]];
      return Math.hypot(
        p * Math.cos(angle) - q * Math.sin(angle) + b[0] - to[i][0],
        p * Math.sin(angle) + q * Math.cos(angle) + b[1] - to[i][1],
      );
    });
  });
  return median(tries[0]) < median(tries[1]) ? tries[0] : tries[1];
}

/** Tilt of the board from all its corners, the documented focal length and one radial term. */
function boardTilt(
  { corners, columns, squareMm }: Board,
  focalPx: number,
  width: number,
  height: number,
): number {
  const known = corners.map((_, i): Point => [(i % columns) * squareMm, Math.floor(i / columns) * squareMm]);
  const start = homographyFromPoints(known, corners);
  if (!start) return Number.NaN;
  const half2 = (width ** 2 + height ** 2) / 4;
  const { parameters } = leastSquares(
    [...start.slice(0, 8), 0],
    corners.length * 2,
    (p, out) => {
      const map = [...p.slice(0, 8), 1] as unknown as Parameters<typeof transformPoint>[0];
      known.forEach((point, i) => {
        const [px, py] = transformPoint(map, point);
        const dx = px - width / 2;
        const dy = py - height / 2;
        const gain = 1 + p[8] * ((dx * dx + dy * dy) / half2);
        out[2 * i] = width / 2 + dx * gain - corners[i][0];
        out[2 * i + 1] = height / 2 + dy * gain - corners[i][1];
      });
    },
    { steps: [1e-5, 1e-5, 1e-2, 1e-5, 1e-5, 1e-2, 1e-8, 1e-8, 1e-5] },
  );
  const h = [...parameters.slice(0, 8), 1];
  const column = (k: 0 | 1) => [
    (h[k] - (width / 2) * h[6 + k]) / focalPx,
    (h[3 + k] - (height / 2) * h[6 + k]) / focalPx,
    h[6 + k],
  ];
  const [a, b] = [column(0), column(1)];
  const normal = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  return (Math.acos(Math.min(1, Math.abs(normal[2]) / Math.hypot(...normal))) * 180) / Math.PI;
}
