/** Where a seam lies in a picture: mm of the picture, x right, y down from its top left corner. */
export interface SeamFrame {
  readonly seamX: number;
  readonly topY: number;
  readonly halfWidthMm: number;
  readonly seamMm: number;
  /** Picture mm for one mm of cloth: 1 in true-size pictures. */
  readonly scale: number;
  /** One hundredth of the drawn seam: the measure of lettering and line widths. */
  readonly grain: number;
}

/** Picture point of a garment point (x from the seam, y down from its top, mm). */
export const pictureFromGarment = (frame: SeamFrame, x: number, y: number): [number, number] => [
  frame.seamX + x * frame.scale,
  frame.topY + y * frame.scale,
];
