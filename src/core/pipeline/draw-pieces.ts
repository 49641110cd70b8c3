import { checkAll, text } from '../base/expectation.js';
import { LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import { checkPiecesFile } from '../pieces/piece/check-pieces-file.js';
import type { PiecesFile } from '../pieces/piece/pieces-file.js';
import { layOutPage } from '../pieces/svg/page-layout.js';
import { viewOfPiece } from '../pieces/view/piece-view.js';
import {
  headRoomMm,
  LEAST_WIDTH_MM,
  LINE_MM,
  LINES_UNDER,
  MARGIN_MM,
  piecesSheetSvg,
} from '../render/pieces/pieces-sheet.js';

/** As wide as an A3 sheet held level: what a person takes in at once. */
const PAGE_MM = 420;

/** Beside small pieces a hand of true size would be the picture. */
const LARGEST_SCALE = 0.5;

/**
 * Pieces as they were understood, in one picture (SVG, user unit 1 mm of the page). All at one scale, half size at most, so that pieces read in a wrong
 * unit lie tiny or huge beside the bar and the hand.
 */
export function drawPieces(file: PiecesFile, title: string, unit: LengthUnit): string {
  checkPiecesFile(file);
  checkAll({ title: [title, text], unit: [unit, LENGTH_UNIT] });
  const notes = (file.warnings ?? []).map((warning) => warning.message);
  const views = file.pieces.map(viewOfPiece);
  let scale = LARGEST_SCALE;
  // Words have one size whatever the scale, so the room they take in mm of cloth depends on it; it settles in a few rounds.
  for (let round = 0; round < 6; round++) {
    const page = laidOut(file, scale, notes.length);
    scale = Math.min(LARGEST_SCALE, PAGE_MM / page.widthMm);
  }
  const page = laidOut(file, scale, notes.length);
  const places = page.placed.map(({ originX, originY, extent }) => ({
    originX: originX * scale,
    originY: originY * scale,
    scale,
    leftMm: (originX + extent.left) * scale,
    bottomMm: (originY - extent.bottom) * scale,
    roomMm: Math.max(LEAST_WIDTH_MM, (extent.right - extent.left) * scale),
  }));
  const widthMm = Math.max(PAGE_MM, page.widthMm * scale);
  return piecesSheetSvg({
    title,
    views,
    places,
    scale,
    widthMm,
    heightMm: page.heightMm * scale,
    unit,
    notes,
  });
}

const laidOut = (file: PiecesFile, scale: number, notes: number) =>
  layOutPage(file.pieces, {
    headMm: (headRoomMm(scale) + notes * 2 * LINE_MM) / scale,
    footMm: 12 / scale,
    underMm: (LINES_UNDER * LINE_MM) / scale,
    gapMm: (2 * MARGIN_MM) / scale,
    leastWidthMm: LEAST_WIDTH_MM / scale,
    unfolded: true,
  });
