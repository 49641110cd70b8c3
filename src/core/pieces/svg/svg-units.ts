import type { Affine } from '../drawn/curves.js';

/** Mm for each unit of length that means the same on every device: CSS Values 3, section 6.2 (1 in = 2.54 cm = 72 pt = 6 pc). */
const MM_PER: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  q: 0.25,
  in: 25.4,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
};

/** From a drawing's user units, y down, to mm on its page, y up from the lower edge and x from the left one. */
export interface PageFrame {
  readonly pageFromUser: Affine;
  /** Width and height ask for scales that differ by so much (a part); SVG takes the smaller for both. */
  readonly unevenness: number;
}

/**
 * Units of a drawing, from width, height and viewBox of its root as SVG 2, section 8, has it. A text that says what is missing when these
 * give no lengths of the real world: pixels are none.
 */
export function pageFrame(attribute: (name: string) => string | null): PageFrame | string {
  const box = (attribute('viewBox') ?? '')
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  const [minX, minY, boxWidth, boxHeight] = box;
  const width = realLength(attribute('width'));
  const height = realLength(attribute('height'));
  if (width === null && height === null) {
    const given = attribute('width');
    return `the drawing has no size in mm, cm, in or pt: its width is ${given === null ? 'missing' : `"${given}"`}`;
  }
  if (box.length !== 4 || !box.every(Number.isFinite) || !(boxWidth > 0 && boxHeight > 0)) {
    return 'the drawing has a size but no viewBox, so that a unit of its lines has no length';
  }
  const across = width === null ? null : width / boxWidth;
  const down = height === null ? null : height / boxHeight;
  const scale = scaleOf(across, down, attribute('preserveAspectRatio'));
  const [sx, sy] = scale;
  const unevenness = across !== null && down !== null ? Math.abs(across / down - 1) : 0;
  return { pageFromUser: [sx, 0, 0, -sy, -minX * sx, (minY + boxHeight) * sy], unevenness };
}

function scaleOf(across: number | null, down: number | null, fit: string | null): readonly [number, number] {
  const x = across ?? (down as number);
  const y = down ?? x;
  if (fit?.includes('none')) return [x, y];
  const one = fit?.includes('slice') ? Math.max(x, y) : Math.min(x, y);
  return [one, one];
}

function realLength(text: string | null): number | null {
  const parts = /^\s*\+?(\d+(?:\.\d*)?(?:e[-+]?\d+)?|\.\d+)\s*([a-z]+)\s*$/i.exec(text ?? '');
  const lengthMm =
    parts === null ? Number.NaN : Number(parts[1]) * (MM_PER[parts[2].toLowerCase()] ?? Number.NaN);
  return Number.isFinite(lengthMm) && lengthMm > 0 ? lengthMm : null;
}

/** User units for each unit within a drawing: there 96 make an inch, whatever the page's scale. */
const USER_PER: Readonly<Record<string, number>> = {
  '': 1,
  px: 1,
  mm: 96 / 25.4,
  cm: 96 / 2.54,
  q: 96 / 101.6,
  in: 96,
  pt: 96 / 72,
  pc: 16,
};

/** A length within a drawing in user units; 0 where it is missing, NaN where it is none. */
export function userLength(text: string | null): number {
  if (text === null || text.trim() === '') return 0;
  const parts = /^\s*([-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[-+]?\d+)?)\s*([a-z]*)\s*$/i.exec(text);
  return parts === null ? Number.NaN : Number(parts[1]) * (USER_PER[parts[2].toLowerCase()] ?? Number.NaN);
}
