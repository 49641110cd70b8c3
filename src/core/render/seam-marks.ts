import { linearFromRgb8, rgb8FromHex } from '../colour/srgb.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { ALERT, INK } from './ink.js';
import { pictureFromGarment, type SeamFrame } from './seam-frame.js';
import { strokeText, textWidth } from './stroke-text.js';
import { element, num, polygon } from './svg.js';

/** A line drawn twice, light under dark, so that it shows on any cloth. */
export function haloLine(
  d: string,
  width: number,
  colour: string,
  extra: Readonly<Record<string, string | number>> = {},
  halo = 2.6,
): string {
  const common = { d, fill: 'none', 'stroke-linecap': 'round', 'stroke-linejoin': 'round', ...extra };
  return (
    element('path', { ...common, stroke: '#ffffff', 'stroke-width': width * halo }) +
    element('path', { ...common, stroke: colour, 'stroke-width': width })
  );
}

/** Words on a light plate, centred at (x, y). */
export function plate(
  text: string,
  x: number,
  y: number,
  size: number,
  colour = INK,
  anchor: 'start' | 'middle' | 'end' = 'middle',
): string {
  const width = textWidth(text, size);
  const pad = size * 0.6;
  const left = anchor === 'middle' ? x - width / 2 : anchor === 'end' ? x - width : x;
  return (
    element('rect', {
      x: left - pad,
      y: y - size / 2 - pad,
      width: width + 2 * pad,
      height: size + 2 * pad,
      rx: pad,
      fill: '#ffffff',
      stroke: colour,
      'stroke-width': size * 0.06,
    }) + strokeText(text, left, y + size / 2, { size, colour, weight: 0.13 })
  );
}

/** The seam: a fine line on the cloth, drawn on as a firmer one beyond both ends. */
export function seamLine(frame: SeamFrame, reach = 3.4 * frame.grain): string {
  const [x, top] = pictureFromGarment(frame, 0, 0);
  const bottom = top + frame.seamMm * frame.scale;
  const fine = element('path', {
    d: `M${num(x)} ${num(top)}L${num(x)} ${num(bottom)}`,
    stroke: INK,
    'stroke-opacity': 0.55,
    'stroke-width': 0.12 * frame.grain,
  });
  const ends = element('path', {
    d: `M${num(x)} ${num(top - reach)}L${num(x)} ${num(top - 0.4 * frame.grain)}M${num(x)} ${num(bottom + 0.4 * frame.grain)}L${num(x)} ${num(bottom + reach)}`,
    stroke: INK,
    'stroke-width': 0.35 * frame.grain,
    'stroke-linecap': 'round',
  });
  return fine + ends;
}

/**
 * The band at the reference point, framed over either half by two lines just outside its edges, the inner
 * one unlike the band, so that the band itself stays clean: the V the eye looks for.
 */
export function centreOutline(match: SeamMatch, frame: SeamFrame, width = 0.3 * frame.grain): string {
  const { sides, request } = match;
  const outward = (by: number): string =>
    (['left', 'right'] as const)
      .flatMap((side) =>
        [0, 1].map((m) => {
          const half = match[side];
          const offset = sides[side].offsetMm(m) + (m === 0 ? -by : by) / frame.scale;
          const slip = side === 'right' ? request.shiftMm : 0;
          return chord(half, frame, side, request.atMm + (offset + slip) / Math.abs(half.uPerY));
        }),
      )
      .join('');
  const line = (d: string, stroke: string): string =>
    d === '' ? '' : element('path', { d, fill: 'none', stroke, 'stroke-width': width });
  const band = match.pattern.bands[request.centre];
  const [inner, outer] = isDark(band.srgb) ? ['#ffffff', INK] : [INK, '#ffffff'];
  return line(outward(1.5 * width), outer) + line(outward(0.5 * width), inner);
}

/** Darker than the middle of the lightness scale: a luminance of 18 %. */
function isDark(srgb: string): boolean {
  const [r, g, b] = linearFromRgb8(rgb8FromHex(srgb));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b < 0.18;
}

/** The stripe line through seam place s, as far as it runs on one half. */
function chord(half: HalfOnCloth, frame: SeamFrame, side: 'left' | 'right', s: number): string {
  const reach = side === 'left' ? -frame.halfWidthMm : frame.halfWidthMm;
  const slope = -half.uPerX / half.uPerY;
  let ends: [number, number][] = [
    [0, s],
    [reach, s + slope * reach],
  ];
  for (const height of [
    ([, y]: readonly [number, number]) => y,
    ([, y]: readonly [number, number]) => frame.seamMm - y,
  ]) {
    const [a, b] = [height(ends[0]), height(ends[1])];
    if (a < 0 && b < 0) return '';
    const cut = (): [number, number] => {
      const t = a / (a - b);
      return [ends[0][0] + t * (ends[1][0] - ends[0][0]), ends[0][1] + t * (ends[1][1] - ends[0][1])];
    };
    if (a < 0) ends = [cut(), ends[1]];
    else if (b < 0) ends = [ends[0], cut()];
  }
  const [from, to] = ends.map(([x, y]) => pictureFromGarment(frame, x, y));
  return `M${num(from[0])} ${num(from[1])}L${num(to[0])} ${num(to[1])}`;
}

/** Arrowheads outside the halves where the band at the reference point leaves through their sides. */
export function centrePointers(match: SeamMatch, frame: SeamFrame): string {
  const { request } = match;
  const size = 1.7 * frame.grain;
  let svg = '';
  for (const side of ['left', 'right'] as const) {
    const half = side === 'left' ? match.left : match.right;
    const out = side === 'left' ? -1 : 1;
    const reach = out * frame.halfWidthMm;
    const start = request.atMm + (side === 'right' ? request.shiftMm / Math.abs(half.uPerY) : 0);
    const s = start - (half.uPerX / half.uPerY) * reach;
    if (s < 0 || s > frame.seamMm) continue;
    const [x, y] = pictureFromGarment(frame, reach, s);
    const tip = x + out * 0.4 * frame.grain;
    const points: [number, number][] = [
      [tip, y],
      [tip + out * 1.5 * size, y - 0.8 * size],
      [tip + out * 1.5 * size, y + 0.8 * size],
    ];
    svg += polygon(points, { fill: INK });
  }
  return svg;
}

/** A ring at the reference point. */
export function referenceRing(match: SeamMatch, frame: SeamFrame): string {
  const [cx, cy] = pictureFromGarment(frame, 0, match.request.atMm);
  const ring = { cx, cy, r: 1.5 * frame.grain, fill: 'none' };
  return (
    element('circle', { ...ring, stroke: '#ffffff', 'stroke-width': 1.1 * frame.grain }) +
    element('circle', { ...ring, stroke: INK, 'stroke-width': 0.45 * frame.grain })
  );
}

/**
 * I-shaped bars along the seam wherever the two sides show different colours; a few of the longest with
 * their length, each length once. label: words for a length; null draws bars only.
 */
export function misfitMarks(
  match: SeamMatch,
  frame: SeamFrame,
  label: ((mm: number) => string) | null,
): string {
  const { grain } = frame;
  const cap = 1.3 * grain;
  let d = '';
  for (const { fromMm, toMm } of match.unmatched) {
    const [x, from] = pictureFromGarment(frame, 0, fromMm);
    const to = from + (toMm - fromMm) * frame.scale;
    d += `M${num(x - cap)} ${num(from)}L${num(x + cap)} ${num(from)}M${num(x)} ${num(from)}L${num(x)} ${num(to)}M${num(x - cap)} ${num(to)}L${num(x + cap)} ${num(to)}`;
  }
  if (d === '') return '';
  let svg = haloLine(d, 0.36 * grain, ALERT, { 'stroke-linecap': 'butt' }, 1.9);
  if (label === null) return svg;
  const longest = [...match.unmatched].sort((a, b) => b.toMm - b.fromMm - (a.toMm - a.fromMm));
  const size = 2.5 * grain;
  const taken: number[] = [match.request.atMm * frame.scale + frame.topY];
  const said = new Set<string>();
  for (const { fromMm, toMm } of longest) {
    const [x, y] = pictureFromGarment(frame, 0, (fromMm + toMm) / 2);
    const words = label(toMm - fromMm);
    if (taken.length > 4 || said.has(words) || taken.some((other) => Math.abs(other - y) < 3 * size))
      continue;
    taken.push(y);
    said.add(words);
    svg += plate(words, x + 4 * grain, y, size, ALERT, 'start');
  }
  return svg;
}

/** The angle between stripe and seam at the reference point, on one side; nothing where the seam leaves no room. */
export function angleArc(match: SeamMatch, frame: SeamFrame, side: 'left' | 'right'): string {
  const { grain } = frame;
  const half = side === 'left' ? match.left : match.right;
  const angle = side === 'left' ? match.request.leftDeg : match.request.rightDeg;
  const [cx, cy] = pictureFromGarment(frame, 0, match.request.atMm);
  const out = side === 'left' ? -1 : 1;
  // The stripe leaves the seam upwards if a step outwards along it goes up; square stripes are measured from above.
  const rises = (-half.uPerX / half.uPerY) * out < 0 || half.uPerX === 0;
  const away = rises ? -1 : 1;
  const room = frame.scale * (rises ? match.request.atMm : frame.seamMm - match.request.atMm);
  const r = Math.min(13 * grain, room - 8 * grain);
  if (r < 5 * grain) return '';
  const turn = (angle * Math.PI) / 180;
  const end: [number, number] = [cx + out * r * Math.sin(turn), cy + away * r * Math.cos(turn)];
  const sweep = out < 0 === rises ? 0 : 1;
  const arc = haloLine(
    `M${num(cx)} ${num(cy + away * r)}A${num(r)} ${num(r)} 0 0 ${sweep} ${num(end[0])} ${num(end[1])}`,
    0.3 * grain,
    INK,
  );
  const at = r + 5.4 * grain;
  return (
    arc +
    plate(
      `${+angle.toFixed(2)}°`,
      cx + out * at * Math.sin(turn / 2) + out * 1.5 * grain,
      cy + away * at * Math.cos(turn / 2),
      2.8 * grain,
    )
  );
}
