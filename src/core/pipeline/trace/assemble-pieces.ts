import { check, finiteNumber, listOf, numberWithin, oneOf, orNull, record } from '../../base/expectation.js';
import { identity3, invert3, type Matrix3, multiply3, type Point } from '../../math/matrix3.js';
import type { Warning } from '../../model/band-model.js';
import { checkPhoto } from '../../raster/check-photo.js';
import type { Photo } from '../../raster/photo.js';
import { type CameraPlane, clothFromUndistorted, clothMap, tiltDegOf } from '../../rectify/camera-plane.js';
import { scaleSdOf } from '../scale-uncertainty.js';
import { isOneLine } from './plane-of-paper.js';
import type { TracedFile, TracedPiece } from './traced-file.js';
import type { TracedPaper, TracedShape } from './traced-paper.js';

/** Half the length that stands for a grain line where none is drawn, mm. */
const HALF_GRAIN_MM = 50;

const point = listOf(finiteNumber, { least: 2, most: 2 }, 'mm, x and y');
const CAMERA = record({
  widthPx: numberWithin({ above: 0 }),
  heightPx: numberWithin({ above: 0 }),
  focalPx: numberWithin({ above: 0 }),
  tiltX: finiteNumber,
  tiltY: finiteNumber,
  spin: finiteNumber,
  distanceMm: numberWithin({ above: 0 }),
  k1: finiteNumber,
});
const TRACED = record(
  {
    scale: record({ references: listOf(record({ pxPerMm: numberWithin({ above: 0 }) }), { least: 1 }) }),
    plane: record({ camera: CAMERA, markRmsMm: finiteNumber, tiltSdDeg: numberWithin({ least: 0 }) }),
    pieces: listOf(
      record({
        outline: listOf(point, { least: 3 }, 'points'),
        corners: listOf(record({ at: point })),
        notches: listOf(point),
        line: oneOf(['edge', 'drawn']),
        outlineSdMm: finiteNumber,
        grain: orNull(record({ foot: point, head: point })),
      }),
      { least: 1 },
      'pieces',
    ),
  },
  'what tracePaper gives',
);

/** A trace as pieces.json has it; picture px become photo px here, and each piece gets a frame of its own. */
export function assemblePieces(photo: Photo, traced: TracedPaper, as: 'stitching' | 'cutting'): TracedFile {
  checkPhoto(photo, 'photo');
  check(traced, 'traced', TRACED);
  check(as, 'as', oneOf(['stitching', 'cutting']));
  const { plane, scale, pieces } = traced;
  const [reference] = scale.references;
  const k = photo.photoPerPicture;
  const inPhoto = ([x, y]: Point): Point => [round(x * k, 2), round(y * k, 2)];
  const mmFromPhoto = multiply3(clothFromUndistorted(plane.camera), [1 / k, 0, 0, 0, 1 / k, 0, 0, 0, 1]);
  return {
    format: 'stripewright.pieces',
    version: 1,
    units: 'mm',
    photo: {
      file: photo.file ?? '',
      width_px: photo.widthPx,
      height_px: photo.heightPx,
      sha256: photo.sha256 ?? '',
    },
    scale: {
      px_per_mm: reference.pxPerMm * k,
      relative_sd: scaleSdOf(reference, plane.camera.distanceMm),
      source: reference.source,
      unit: reference.unit,
      ...(reference.ends
        ? { ends_px: [inPhoto(reference.ends[0]), inPhoto(reference.ends[1])] as const }
        : {}),
      ...(reference.corners ? { corners_px: reference.corners.map(inPhoto) } : {}),
      length_mm: reference.lengthMm,
      ...(reference.rulerClass ? { ruler_class: reference.rulerClass } : {}),
    },
    plane: {
      homography: overLast(mmFromPhoto),
      tilt_deg: tiltDegOf(plane.camera),
      residual_mm: plane.markRmsMm,
      k1: plane.camera.k1,
    },
    warnings: warningsOf(traced),
    pieces: pieces.map((shape, i) => pieceOf(shape, i, pieces.length, mmFromPhoto, plane.camera, as)),
  };
}

function pieceOf(
  shape: TracedShape,
  index: number,
  count: number,
  mmFromPhoto: Matrix3,
  camera: CameraPlane,
  as: 'stitching' | 'cutting',
): TracedPiece {
  const left = Math.min(...shape.outline.map((p) => p[0]));
  const low = Math.min(...shape.outline.map((p) => p[1]));
  const own = ([x, y]: Point): Point => [round(x - left, 4), round(y - low, 4)];
  const outline = shape.outline.map(own);
  const id = count === 1 ? 'piece' : `piece-${index + 1}`;
  const grain = shape.grain ?? straightUp(shape.outline, camera);
  const corners = shape.corners.map(({ at }, i) => [`c${i + 1}`, own(at)] as const);
  const notches = shape.notches.map((at, i) => [`n${i + 1}`, own(at)] as const);
  return {
    id,
    name: id,
    stitching: outline,
    cutting: as === 'cutting' ? outline : null,
    allowance_mm: null,
    grain: [own(grain.foot), own(grain.head)],
    stripes: { to: 'grain', angle_deg: 0 },
    points: Object.fromEntries([...corners, ...notches]),
    seams: [],
    fold: null,
    copies: [{ id, mirrored: false }],
    notches: notches.map(([name]) => name),
    traced: {
      outline: shape.line,
      outline_sd_mm: round(shape.outlineSdMm, 3),
      grain_found: shape.grain !== null,
      grain_sd_deg: shape.grain === null ? null : round(shape.grain.sdDeg, 3),
      grain_heads: shape.grain?.heads ?? 0,
      to_photo: overLast(multiply3(invert3(mmFromPhoto), [1, 0, left, 0, 1, low, 0, 0, 1])),
    },
  };
}

/** Through the middle of the piece, as the photo's own upright runs there. */
function straightUp(outline: readonly Point[], camera: CameraPlane): { foot: Point; head: Point } {
  const mean = (k: 0 | 1): number => outline.reduce((sum, p) => sum + p[k], 0) / outline.length;
  const middle: Point = [mean(0), mean(1)];
  const { clothFromPicture, pictureFromCloth } = clothMap(camera);
  const [x, y] = pictureFromCloth(...middle);
  const above = clothFromPicture(x, y - 50);
  const length = Math.hypot(above[0] - middle[0], above[1] - middle[1]);
  const way: Point = [(above[0] - middle[0]) / length, (above[1] - middle[1]) / length];
  const at = (t: number): Point => [middle[0] + t * way[0], middle[1] + t * way[1]];
  return { foot: at(-HALF_GRAIN_MM), head: at(HALF_GRAIN_MM) };
}

function warningsOf({ scale, plane, pieces }: TracedPaper): Warning[] {
  const named = (holds: (shape: TracedShape) => boolean): string => {
    const which = pieces.flatMap((shape, i) => (holds(shape) ? [i + 1] : []));
    return which.length === 0 ? '' : pieces.length === 1 ? 'the piece' : `piece ${which.join(', ')}`;
  };
  const without = pieces.flatMap(({ grain }, i) => (grain === null ? [i + 1] : []));
  const hidden = named(({ hiddenMm }) => hiddenMm > 0);
  const covered = named(({ coveredMm }) => coveredMm > TOLD_COVERED_MM);
  const dart = named(({ dartMm }) => dartMm > 0);
  const open = named(({ isOpen }) => isOpen);
  return [
    ...(hidden
      ? [
          {
            code: 'line-hidden',
            message: `Something lies on the drawn line of ${hidden}: there the line is carried on as it runs before and after. Move it and take the photo again, to be sure`,
          },
        ]
      : []),
    ...(covered
      ? [
          {
            code: 'edge-covered',
            message: `The sheet, card or ruler lies against or over the edge of ${covered}: what it hides is not known. Lay it a finger away and take the photo again`,
          },
        ]
      : []),
    ...(dart
      ? [
          {
            code: 'dart-narrow',
            message: `A dart of ${dart} is too narrow at its end to be seen: its point is where its straight legs meet. Measure it on the paper, or spread the dart a little and take the photo again`,
          },
        ]
      : []),
    ...(open
      ? [
          {
            code: 'line-open',
            message: `Lines are drawn inside the edge of ${open}, but none that closes, so the paper's edge was traced. Where a drawn line is the outline, close it with a dark pen`,
          },
        ]
      : []),
    ...(isOneLine(scale.references)
      ? [
          {
            code: 'tilt-unknown',
            message: `One ruler cannot show how the camera was tilted sideways to it: the outline may be ${Math.max(...pieces.map((p) => p.outlineSdMm)).toFixed(1)} mm off, give or take. Photograph it with a second ruler at right angles, or with a white sheet, to be sure`,
          },
        ]
      : []),
    ...(plane.tiltSdDeg < 20 && tiltDegOf(plane.camera) > STEEP_DEG
      ? [
          {
            code: 'steep',
            message: `The camera was tilted by ${tiltDegOf(plane.camera).toFixed(0)} degrees. That is corrected, but the far side is less sure: hold it straight above`,
          },
        ]
      : []),
    ...(without.length > 0
      ? [
          {
            code: 'no-grain',
            message:
              pieces.length === 1
                ? 'No grain line with an arrow head was found, so the grain is taken to run straight up in the photo'
                : `No grain line with an arrow head was found on piece ${without.join(', ')}, so its grain is taken to run straight up in the photo`,
          },
        ]
      : []),
  ];
}

/** Of an edge with things against it, what is told of, mm: less is chance. */
const TOLD_COVERED_MM = 6;
/** Beyond this what is behind the paper, its edge's height, and the lens tell in mm, degrees. */
const STEEP_DEG = 20;

const round = (v: number, digits: number): number => Number(v.toFixed(digits)) + 0;

function overLast(m: Matrix3): Matrix3 {
  return m[8] === 0 ? identity3 : (m.map((v) => v / m[8]) as unknown as Matrix3);
}
