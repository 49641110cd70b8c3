import type { LengthUnit } from '../base/length.js';
import type { ClothPattern } from '../model/cloth-pattern.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';
import type { NumberedRepeat } from '../model/numbered-repeats.js';
import type { Raster } from '../raster/raster.js';
import { type ClothExtent, clothFrame, FRAME } from './cloth-frame.js';
import type { ClothTexture } from './cloth-raster.js';
import { stripedShape } from './half-stripes.js';
import { INK } from './ink.js';
import { pieceMarks } from './lay-picture.js';
import { lines } from './overlay/lines.js';
import { blankPage, place as placeOn } from './page.js';
import { PRINTABLE } from './page-size.js';
import type { Sheet } from './picture-svg.js';
import type { HalfWindow } from './stripe-raster.js';
import { strokeText, wrapText } from './stroke-text.js';
import { element, num } from './svg.js';

type Corner = readonly [number, number];

/** One half on the cloth, u and v in mm. */
export interface PlannedHalf {
  /** Seam top, seam foot, outer foot, outer top. */
  readonly outline: readonly Corner[];
  /** The place that comes to lie at the ring. */
  readonly ring: Corner;
  readonly wrongSide: boolean;
}

/** Where to cut both halves of one seam from the photographed cloth. */
export interface CutPlan {
  readonly title: string;
  /** What to read beside the picture, one paragraph each. */
  readonly words: readonly string[];
  readonly left: PlannedHalf;
  readonly right: PlannedHalf;
  readonly pattern: ClothPattern;
  readonly cross: ClothPattern | null;
  /** What the photo shows, in a level box. */
  readonly photo: ClothExtent;
  readonly repeats: readonly NumberedRepeat[];
  readonly unit: LengthUnit;
}

/** A plan laid out on a page that it fits. */
export interface PlanPicture extends Sheet {
  readonly plan: CutPlan;
  /** Cloth shown, and where: mm of the page. */
  readonly extent: ClothExtent;
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

const PX_PER_MM = 8;
/** Measure of lettering, mm. */
const GRAIN = 1.55;
const TITLE_MM = 3.4;
const TEXT_MM = 1.9;
const LINE_MM = 3.7;
/** Most of a page's height that the cloth itself takes. */
const MOST_HIGH_MM = 190;
/** How much of white lies over cloth that was not photographed. */
const FADED = 0.62;

/** Lays a plan out at most as large as a page. */
export function planPicture(plan: CutPlan): PlanPicture {
  const widthMm = PRINTABLE.widthMm;
  const extent = extentOf(plan);
  const frame = FRAME * GRAIN;
  const room = widthMm - 2 * frame;
  const span = [extent.rightUMm - extent.leftUMm, extent.topVMm - extent.lowVMm];
  const scale = Math.min(room / span[0], MOST_HIGH_MM / span[1]);
  const x = (widthMm - span[0] * scale) / 2;
  const y = 9 + frame;
  const place = ([u, v]: Corner): Corner => [
    x + (u - extent.leftUMm) * scale,
    y + (extent.topVMm - v) * scale,
  ];
  const half = ({ outline, ring, wrongSide }: PlannedHalf, name: string): string =>
    pieceMarks(outline.map(place), GRAIN, name, wrongSide) + ringMark(place(ring));
  let textY = y + span[1] * scale + frame + 4;
  const words = plan.words
    .flatMap((paragraph) => wrapText(paragraph, widthMm - 8, TEXT_MM))
    .map((line) => {
      const svg = strokeText(line, 4, textY, { size: TEXT_MM, fitWidth: widthMm - 8 });
      textY += LINE_MM;
      return svg;
    })
    .join('');
  const lettering =
    strokeText(plan.title, 4, 6.4, { size: TITLE_MM, weight: 0.15, fitWidth: widthMm - 8 }) +
    clothFrame(extent, { x, y, scale }, plan.repeats, plan.unit, GRAIN) +
    zeroLine(x, y + extent.topVMm * scale, span[0] * scale) +
    half(plan.left, 'left half') +
    half(plan.right, 'right half') +
    words;
  const heightMm = textY + 2;
  return {
    title: plan.title,
    widthMm,
    heightMm,
    widthPx: Math.round(widthMm * PX_PER_MM),
    heightPx: Math.round(heightMm * PX_PER_MM),
    lettering,
    stripes: () => groundSvg(plan, extent, (u, v) => [...place([u, v])]),
    plan,
    extent,
    x,
    y,
    scale,
  };
}

/** All of both halves, and of the photo. */
function extentOf({ left, right, photo }: CutPlan): ClothExtent {
  const corners = [...left.outline, ...right.outline];
  const spare = 8;
  return {
    leftUMm: Math.min(photo.leftUMm, ...corners.map(([u]) => u - spare)),
    rightUMm: Math.max(photo.rightUMm, ...corners.map(([u]) => u + spare)),
    topVMm: Math.max(photo.topVMm, ...corners.map(([, v]) => v + spare)),
    lowVMm: Math.min(photo.lowVMm, ...corners.map(([, v]) => v - spare)),
  };
}

/** Across the stripes where lengths along them begin. */
const zeroLine = (x: number, y: number, length: number): string =>
  lines('zero', `M${num(x)} ${num(y)}h${num(length)}`, 0.35, 0.25);

const ringMark = ([cx, cy]: Corner): string =>
  element('circle', { cx, cy, r: 1.5, fill: 'none', stroke: '#ffffff', 'stroke-width': 1.3 }) +
  element('circle', { cx, cy, r: 1.5, fill: 'none', stroke: INK, 'stroke-width': 0.6 });

const AS_IT_LIES: HalfOnCloth = { uMm: 0, uPerX: 1, uPerY: 0, vMm: 0, vPerX: 0, vPerY: 1 };

/** The pattern as it goes on, pale. */
function groundSvg(
  { pattern, cross }: CutPlan,
  { leftUMm, rightUMm, topVMm, lowVMm }: ClothExtent,
  place: (u: number, v: number) => [number, number],
): string {
  const cloth: Corner[] = [
    [leftUMm, lowVMm],
    [rightUMm, lowVMm],
    [rightUMm, topVMm],
    [leftUMm, topVMm],
  ];
  const [x, y] = place(leftUMm, topVMm);
  const [right, foot] = place(rightUMm, lowVMm);
  return (
    stripedShape(pattern, AS_IT_LIES, cloth, place, cross) +
    element('rect', { x, y, width: right - x, height: foot - y, fill: '#ffffff', 'fill-opacity': FADED })
  );
}

/** A plan as inline SVG of a page, the photographed cloth by its id there: an image one unit wide for each of its mm. */
export function planSvg(picture: PlanPicture, clothId: string, label: string): string {
  const { plan, widthMm, heightMm, extent, x, y, scale } = picture;
  const left = x + (plan.photo.leftUMm - extent.leftUMm) * scale;
  const top = y + (extent.topVMm - plan.photo.topVMm) * scale;
  const cloth = element('use', {
    href: `#${clothId}`,
    transform: `translate(${num(left)} ${num(top)}) scale(${scale.toFixed(6)})`,
  });
  return element(
    'svg',
    { viewBox: `0 0 ${num(widthMm)} ${num(heightMm)}`, role: 'img', 'aria-label': label },
    picture.stripes() + cloth + picture.lettering,
  );
}

/** The page without its lettering: the pattern pale, the photographed cloth over it as it is. RGBA. */
export function paintPlan(
  { extent, x, y, scale, widthPx, heightPx }: PlanPicture,
  texture: ClothTexture,
  paint: (half: HalfOnCloth, window: HalfWindow) => Raster<Uint8Array>,
): Raster<Uint8Array> {
  const page = blankPage(widthPx, heightPx);
  const pxPerMm = PX_PER_MM * scale;
  const columns = Math.round((extent.rightUMm - extent.leftUMm) * pxPerMm);
  const rows = Math.round((extent.topVMm - extent.lowVMm) * pxPerMm);
  const asSeen = { ...AS_IT_LIES, uMm: extent.leftUMm, vMm: extent.topVMm, vPerY: -1 };
  const ground = paint(asSeen, { firstColumn: 0, columns, rows, pxPerMm });
  for (let i = 0; i < ground.data.length; i++) {
    ground.data[i] += (255 - ground.data[i]) * FADED;
  }
  layPhoto(ground, texture, extent, pxPerMm);
  placeOn(page, ground, Math.round(x * PX_PER_MM), Math.round(y * PX_PER_MM));
  return page;
}

/** The photographed cloth, each pixel the mean of those that fall on it. Changes the ground. */
function layPhoto(
  ground: Raster<Uint8Array>,
  { picture, pxPerMm: fine, leftUMm, topVMm }: ClothTexture,
  extent: ClothExtent,
  pxPerMm: number,
): void {
  const step = fine / pxPerMm;
  const around = Math.max(1, Math.round(step));
  const { width, height, data } = picture;
  for (let y = 0; y < ground.height; y++) {
    const top = Math.floor((topVMm - extent.topVMm) * fine + y * step);
    if (top < 0 || top + around > height) continue;
    for (let x = 0; x < ground.width; x++) {
      const left = Math.floor((extent.leftUMm - leftUMm) * fine + x * step);
      if (left < 0 || left + around > width) continue;
      const sums = [0, 0, 0];
      let seen = 0;
      for (let dy = 0; dy < around; dy++) {
        for (let i = 4 * ((top + dy) * width + left), end = i + 4 * around; i < end; i += 4) {
          if (data[i + 3] === 0) continue;
          seen++;
          for (let c = 0; c < 3; c++) sums[c] += data[i + c];
        }
      }
      if (seen === 0) continue;
      const at = 4 * (y * ground.width + x);
      for (let c = 0; c < 3; c++) ground.data[at + c] = sums[c] / seen;
    }
  }
}
