import { callback, checkAll, numberWithin, record, text, wholeNumber } from '../base/expectation.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { checkLength } from '../raster/check-photo.js';
import { type Raster, raster } from '../raster/raster.js';
import { checkTexture } from './check-texture.js';
import { clearCorner } from './clear-corner.js';
import { element, svgInMm } from './svg.js';

/** The rectified cloth: u to the right, v upwards; RGBA. */
interface SeenCloth {
  readonly picture: Raster<Uint8Array>;
  readonly pxPerMm: number;
  readonly leftUMm: number;
  readonly topVMm: number;
  /** 1 where bare cloth was photographed. */
  readonly seen: Uint8Array;
}

/** A part of the cloth, mm: u to the right from the left, v down from the top. */
interface Window {
  readonly leftUMm: number;
  readonly topVMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly pxPerMm: number;
}

/** Draws any part of the cloth from something finer than its picture. */
interface CloseUp {
  readonly pxPerMm: number;
  readonly draw: (window: Window) => Pick<SeenCloth, 'picture' | 'seen'>;
}

/** A drop is taken for the nearest part of so many or fewer. */
const MOST_COLUMNS = 8;
/** Of so many cells each pixel is the median: odd, so that it is a value that was seen. */
const MOST_CELLS = 7;
const MOST_PX = 1_500_000;

/**
 * One cell of a printed cloth, at true size, that joins its copies without a seam both ways: as many columns wide as it takes
 * for the drop to come round. The median of the cells in view: where edges wander from cell to cell a mean is a blur, the median an
 * edge as sharp as each of them. It begins where no motif is cut, if there is such a place. `closer` draws cells from the photo's own
 * pixels; without it they are as sharp as `cloth`. 3 channels, encoded sRGB. Null without a print whose lattice is known, or where a
 * part of it was nowhere seen.
 */
export function printedSwatch(
  model: BandModel,
  cloth: SeenCloth,
  closer?: CloseUp,
): { picture: Raster<Uint8Array>; pxPerMm: number } | null {
  checkBandModel(model);
  checkTexture(cloth, 'cloth');
  checkLength(cloth.seen, 'cloth.seen', cloth.picture.width * cloth.picture.height);
  if (closer !== undefined) checkAll({ closer: [closer, CLOSE_UP] });
  const closeUp = closer ?? closeUpOfPicture(cloth);
  const { across_mm, along_mm, drop_fraction, motif_across_mm } = model.repeat;
  if (across_mm === null || along_mm === null || drop_fraction === null) return null;
  const cellMm = motif_across_mm ?? across_mm;
  const columns = columnsOf(drop_fraction);
  // Rounded to the columns, the drop comes round exactly.
  const drop = Math.round(drop_fraction * columns) / columns;
  const widthMm = columns * cellMm;
  const wanted = Math.min(closeUp.pxPerMm, Math.sqrt(MOST_PX / (widthMm * along_mm)));
  const width = Math.max(1, Math.round(widthMm * wanted));
  const pxPerMm = width / widthMm;
  const height = Math.max(1, Math.round(along_mm * pxPerMm));
  const picture = raster(width, height, 3, new Uint8Array(3 * width * height));
  const steps = stepsInView(cloth, cellMm, along_mm, drop_fraction);
  const [leftUMm, lowVMm] = clearCorner(model, cellMm, along_mm, drop_fraction);
  for (let column = 0; column < columns; column++) {
    const from = Math.round((column * width) / columns);
    const to = Math.round(((column + 1) * width) / columns);
    // The true drop of this column less the rounded one.
    const shift = column * (drop_fraction - drop) * along_mm;
    const window = {
      leftUMm: leftUMm + from / pxPerMm,
      topVMm: lowVMm + along_mm + shift,
      columns: to - from,
      rows: height,
      pxPerMm,
    };
    if (!fillMedian(cloth, closeUp, steps, window, picture, from)) return null;
  }
  return { picture, pxPerMm };
}

/** That cell as SVG, user unit 1 mm: the picture itself (a data URI), for a print's drawings are not known as outlines. */
export function printedSwatchSvg(
  swatch: { readonly picture: Raster<Uint8Array>; readonly pxPerMm: number },
  href: string,
): string {
  checkAll({ swatch: [swatch, PRINTED], href: [href, text] });
  const { picture, pxPerMm } = swatch;
  const size = { width: picture.width / pxPerMm, height: picture.height / pxPerMm };
  const image = element('image', { ...size, preserveAspectRatio: 'none', href });
  return svgInMm(size.width, size.height, 'One cell of the printed cloth, true size', image);
}

const side = wholeNumber({ least: 1 });
const CLOSE_UP = record(
  { pxPerMm: numberWithin({ above: 0 }), draw: callback },
  'what draws parts of the cloth',
);
const PRINTED = record(
  { picture: record({ width: side, height: side }), pxPerMm: numberWithin({ above: 0 }) },
  'what printedSwatch gives',
);

function columnsOf(drop: number): number {
  let best = 1;
  for (let n = 1; n <= MOST_COLUMNS; n++) {
    const off = (k: number): number => Math.abs(drop - Math.round(drop * k) / k);
    if (off(n) < off(best) - 0.01) best = n;
  }
  return best;
}

type Step = readonly [number, number];

/** Lattice steps from the cell at the origin to those in view, the nearest to its middle first. */
function stepsInView(
  { picture, pxPerMm, leftUMm, topVMm }: SeenCloth,
  cellMm: number,
  alongMm: number,
  drop: number,
): Step[] {
  const rightUMm = leftUMm + picture.width / pxPerMm;
  const lowVMm = topVMm - picture.height / pxPerMm;
  const middle = [(leftUMm + rightUMm) / 2, (topVMm + lowVMm) / 2];
  const steps: Step[] = [];
  const most = Math.ceil((rightUMm - leftUMm) / cellMm) + MOST_COLUMNS;
  for (let i = -most; i <= most; i++) {
    const rows = Math.ceil((topVMm - lowVMm) / alongMm) + Math.ceil(Math.abs(i * drop)) + 1;
    for (let j = -rows; j <= rows; j++) steps.push([i * cellMm, (j + i * drop) * alongMm]);
  }
  const away = ([u, v]: Step): number => Math.hypot(u + cellMm / 2 - middle[0], v + alongMm / 2 - middle[1]);
  return steps.sort((p, q) => away(p) - away(q));
}

/** The cells that `window` is seen in, one after another, until each of its pixels is known; false if one nowhere is. */
function fillMedian(
  cloth: SeenCloth,
  closeUp: CloseUp,
  steps: readonly Step[],
  window: Window,
  out: Raster<Uint8Array>,
  from: number,
): boolean {
  const { columns, rows } = window;
  const count = columns * rows;
  const found = new Uint8Array(count);
  const values = new Uint8Array(3 * MOST_CELLS * count);
  let missing = count;
  for (const [du, dv] of steps) {
    if (missing === 0) break;
    const part = { ...window, leftUMm: window.leftUMm + du, topVMm: window.topVMm + dv };
    if (!meets(part, cloth)) continue;
    const { picture, seen } = closeUp.draw(part);
    for (let i = 0; i < count; i++) {
      if (seen[i] === 0 || found[i] === MOST_CELLS) continue;
      const at = 3 * MOST_CELLS * i + found[i];
      for (let c = 0; c < 3; c++) values[at + c * MOST_CELLS] = picture.data[4 * i + c];
      if (++found[i] === MOST_CELLS) missing--;
    }
  }
  for (let y = 0, i = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++, i++) {
      if (found[i] === 0) return false;
      // Between two middle values an edge would have two steps: the farthest cell is left out.
      const odd = found[i] - 1 + (found[i] % 2);
      for (let c = 0; c < 3; c++) {
        const at = MOST_CELLS * (3 * i + c);
        out.data[3 * (y * out.width + from + x) + c] = medianOf(values, at, odd);
      }
    }
  }
  return true;
}

/** Of `count` values, an odd number; sorts them where they lie. So few are sorted fastest by insertion. */
function medianOf(values: Uint8Array, from: number, count: number): number {
  for (let i = from + 1; i < from + count; i++) {
    const value = values[i];
    let k = i;
    for (; k > from && values[k - 1] > value; k--) values[k] = values[k - 1];
    values[k] = value;
  }
  return values[from + (count >> 1)];
}

function meets(window: Window, { picture, pxPerMm, leftUMm, topVMm }: SeenCloth): boolean {
  return (
    window.leftUMm < leftUMm + picture.width / pxPerMm &&
    window.leftUMm + window.columns / window.pxPerMm > leftUMm &&
    window.topVMm > topVMm - picture.height / pxPerMm &&
    window.topVMm - window.rows / window.pxPerMm < topVMm
  );
}

/** For want of anything finer: the nearest pixels of the picture itself. */
const closeUpOfPicture = ({ picture, pxPerMm, leftUMm, topVMm, seen }: SeenCloth): CloseUp => ({
  pxPerMm,
  draw: (window) => {
    const { columns, rows } = window;
    const data = new Uint8Array(4 * columns * rows);
    const seenThere = new Uint8Array(columns * rows);
    for (let i = 0; i < columns * rows; i++) {
      const u = window.leftUMm + ((i % columns) + 0.5) / window.pxPerMm;
      const v = window.topVMm - (Math.floor(i / columns) + 0.5) / window.pxPerMm;
      const x = Math.floor((u - leftUMm) * pxPerMm);
      const y = Math.floor((topVMm - v) * pxPerMm);
      if (x < 0 || y < 0 || x >= picture.width || y >= picture.height) continue;
      const at = y * picture.width + x;
      seenThere[i] = seen[at];
      data.set(picture.data.subarray(4 * at, 4 * at + 4), 4 * i);
    }
    return { picture: raster(columns, rows, 4, data), seen: seenThere };
  },
});
