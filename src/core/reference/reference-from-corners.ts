import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { SheetSize } from '../base/request.js';
import type { Point } from '../math/matrix3.js';
import { focalLength } from '../raster/focal-length.js';
import type { Photo } from '../raster/photo.js';
import type { Reference } from './reference.js';
import { sheetPose } from './sheet-pose.js';
import { sheetSpecs } from './sheet-sizes.js';

/** More than this off its shape, and it is another sheet or a corner is wrong: A4 and letter differ by 9 %. */
const mostMisfit = 0.05;

/**
 * The scale and plane that a sheet's or a card's four corners give.
 *
 * @param corners picture px, in order round the sheet, either way and from any corner.
 * @param cornerSdPx how well each is known, along either axis; picture px.
 */
export function referenceFromCorners(
  photo: Photo,
  corners: readonly Point[],
  size: SheetSize,
  cornerSdPx: number,
): Outcome<Reference> {
  const spec = sheetSpecs[size];
  const { width, height } = photo.picture;
  const { focalPx } = focalLength(photo.focal35Mm, width, height);
  const pose = sheetPose(corners, spec, focalPx, [width / 2, height / 2]);
  if (pose === null) {
    return refuse(
      'no-scale',
      'The four corners do not go round a sheet',
      'give the corners one after the other round the sheet',
      ['corners'],
    );
  }
  if (Math.abs(pose.sideMisfit) > mostMisfit || Math.abs(pose.squareMisfit) > mostMisfit) {
    const shape = spec.longMm / spec.shortMm;
    return refuse(
      'no-scale',
      `The corners have sides ${((1 + pose.sideMisfit) * shape).toFixed(2)} to 1, ${spec.name} has ${shape.toFixed(2)} to 1`,
      'check the corners, and which sheet it is',
      ['corners', 'sheet'],
    );
  }
  // The face lies nearer to the camera than the cloth and looks larger: on the cloth it covers a little more than itself.
  const distanceMm = focalPx / pose.pxPerMm;
  const covered = 1 + spec.thickMm / distanceMm;
  const sidePx = pose.pxPerMm * Math.sqrt(spec.longMm * spec.shortMm);
  return succeed({
    source: spec.source,
    unit: null,
    marks: pose.corners.map((picture, k) => ({
      picture,
      planeMm: [pose.cornersMm[k][0] * covered, pose.cornersMm[k][1] * covered],
    })),
    sideMarks: [],
    markSdPx: cornerSdPx,
    levelSdPx: cornerSdPx,
    pxPerMm: pose.pxPerMm / covered,
    // Mean of two sides of each kind, each between two corners; and what the standards permit the two kinds to be off.
    rulerClass: null,
    relativeSd: Math.hypot(
      cornerSdPx / Math.SQRT2 / sidePx,
      spec.longSdMm / spec.longMm / 2,
      spec.shortSdMm / spec.shortMm / 2,
    ),
    ends: [pose.corners[0], pose.corners[1]],
    lengthMm: spec.longMm,
    corners: pose.corners,
    outline: pose.corners,
    isClear: false,
    ticks: [],
  });
}
