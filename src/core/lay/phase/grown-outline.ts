import type { Point } from '../../math/matrix3.js';
import type { Outline } from '../../pieces/geometry/outline.js';
import { areaOutsideMm2, roundedOutset, simplifiedOutline } from '../../pieces/geometry/polygons.js';

/**
 * What corners may be left out, as a part of the margin: pieces then lie apart by up to a tenth of it more than they need. Half as much left a tenth more
 * corners and gained less than a mm of cloth; twice as much cost more cloth than it saved time.
 */
const SLACK_PART = 1 / 20;
/** Slack of outlines that have many corners where the margin is nought, mm: less than a thread. */
const THREAD_MM = 0.05;
/** An outline of no more corners is drawn, not traced or rounded: with no margin it is taken as it stands. */
const FEW_CORNERS = 40;

/**
 * The outline that may not overlap another such: moved out by half the margin, with fewer corners, none of it further in than half the margin. Two that
 * touch lie at least the margin apart.
 */
export function grownOutline(outline: Outline, marginMm: number): Point[] {
  if (marginMm === 0 && outline.length <= FEW_CORNERS) return [...outline];
  const slackMm = Math.max(THREAD_MM, marginMm * SLACK_PART) / 2;
  const wholeMm = marginMm / 2;
  const grown = simplifiedOutline(roundedOutset(outline, wholeMm + slackMm, slackMm / 2), slackMm);
  // The library's promise about what it leaves out is tested, not trusted.
  const least = wholeMm === 0 ? outline : roundedOutset(outline, wholeMm, 0.001);
  return areaOutsideMm2(least, grown) < 1e-3 ? grown : roundedOutset(outline, wholeMm, slackMm / 2);
}
