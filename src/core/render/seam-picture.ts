import { formatLength, formatLengthNumber, formatSmall, type LengthUnit } from '../base/length.js';
import type { MismatchFigures } from '../seam/expected-mismatch.js';
import type { Drift } from '../seam/seam-lengths.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { stripesSvg } from './half-stripes.js';
import { ALERT, INK, SOFT } from './ink.js';
import type { Pane } from './page.js';
import type { Sheet } from './picture-svg.js';
import { scaleBar } from './scale-bar.js';
import type { SeamFrame } from './seam-frame.js';
import {
  angleArc,
  centreOutline,
  centrePointers,
  misfitMarks,
  plate,
  referenceRing,
  seamLine,
} from './seam-marks.js';
import { strokeText } from './stroke-text.js';
import { element, num } from './svg.js';
import { degrees, formatGiven, layWords, longestMisfitMm, orLess } from './words.js';

/** What a picture says beside what it shows. */
export interface SeamCaption {
  readonly unit: LengthUnit;
  /** What any two repeats may miss by, at the worst edge of the seam; null when not known. */
  readonly expected: MismatchFigures | null;
  /** Unequal sides: how they run apart, said instead of what is expected. */
  readonly drift: Drift | null;
  /** The lay is against the rule: expecting anything of it makes no sense. */
  readonly forced: boolean;
  /** Further lines under the picture: where cloth was continued, which repeats were used. */
  readonly notes: readonly string[];
}

/** A true-size drawing with a window for painted halves. */
export interface SeamPicture extends Sheet {
  readonly pane: Pane;
}

/** Drawn seam length in px of the PNG; the rest of the picture is measured in hundredths of it. */
const SEAM_PX = 660;

/** Lays out one seam: names at the left, the halves, the repeat's lengths at the right. */
export function seamPicture(match: SeamMatch, caption: SeamCaption): SeamPicture {
  const { seamMm } = match.request;
  const pxPerMm = SEAM_PX / seamMm;
  const grain = seamMm / 100;
  const snap = (grains: number): number => Math.round(grains * (SEAM_PX / 100));
  const pane = {
    leftPx: snap(27),
    topPx: snap(21),
    halfWidthPx: snap(36),
    heightPx: SEAM_PX,
    pxPerMm,
  };
  const widthPx = snap(152);
  const heightPx = snap(135 + 4 * caption.notes.length);
  const frame: SeamFrame = {
    seamX: (pane.leftPx + pane.halfWidthPx) / pxPerMm,
    topY: pane.topPx / pxPerMm,
    halfWidthMm: pane.halfWidthPx / pxPerMm,
    seamMm,
    scale: 1,
    grain,
  };
  const lettering = [
    heading(match, frame),
    centreOutline(match, frame),
    centrePointers(match, frame),
    seamLine(frame),
    misfitMarks(match, frame, (mm) => formatSmall(mm, caption.unit)),
    angleArc(match, frame, 'left'),
    match.request.leftDeg === match.request.rightDeg ? '' : angleArc(match, frame, 'right'),
    referenceRing(match, frame),
    centreName(match, frame),
    bandNames(match, frame),
    repeatTable(match, frame, caption),
    footer(match, frame, caption),
  ].join('');
  return {
    title: titleOf(match),
    widthMm: widthPx / pxPerMm,
    heightMm: heightPx / pxPerMm,
    lettering,
    stripes: () => stripesSvg(match, frame),
    pane,
    widthPx,
    heightPx,
  };
}

const bandName = (match: SeamMatch, band: number): string =>
  `${match.pattern.bands[band].name} ${match.pattern.bands[band].id}`;

export function titleOf(match: SeamMatch): string {
  const { leftDeg, rightDeg, centre, point, lay } = match.request;
  const angles =
    leftDeg === rightDeg ? degrees(leftDeg) : `${degrees(leftDeg)} left, ${degrees(rightDeg)} right`;
  const shape =
    lay === 'run-on'
      ? 'running on, '
      : leftDeg === 90 && rightDeg === 90
        ? 'square, '
        : point === 'down'
          ? 'V, '
          : 'inverted V, ';
  return `${angles} ${shape}${bandName(match, centre)} at the ${shape.includes('V') ? 'point' : 'mark'}`;
}

function heading(match: SeamMatch, frame: SeamFrame): string {
  const { grain } = frame;
  const x = 5 * grain;
  const arms =
    match.request.lay === 'run-on' || match.enclosedDeg === 180
      ? 'no point'
      : `arms enclose ${degrees(match.enclosedDeg)}`;
  return (
    strokeText(titleOf(match), x, 8.2 * grain, { size: 4.4 * grain, weight: 0.15, fitWidth: 140 * grain }) +
    strokeText(`${arms} · right half ${layWords(match.request)}`, x, 14.2 * grain, {
      size: 2.6 * grain,
      colour: SOFT,
      fitWidth: 140 * grain,
    })
  );
}

function centreName(match: SeamMatch, frame: SeamFrame): string {
  const y = frame.topY + match.request.atMm;
  return plate(
    bandName(match, match.request.centre),
    frame.seamX + 4.4 * frame.grain,
    y,
    2.6 * frame.grain,
    INK,
    'start',
  );
}

/** Names of one repeat at the left edge where there is room for them; the chosen band's first of all. */
function bandNames(match: SeamMatch, frame: SeamFrame): string {
  const { grain } = frame;
  const { left, sides, request, pattern } = match;
  const seamMiddle = frame.seamMm / 2;
  const edgeX = frame.seamX - frame.halfWidthMm;
  const size = 2.3 * grain;
  const slope = -left.uPerX / left.uPerY;
  const yOf = (m: number): number =>
    request.atMm + sides.left.offsetMm(m) / left.uPerY - slope * frame.halfWidthMm;
  let first = 0;
  while (yOf(first) > 0) first--;
  while (yOf(first + 1) <= 0) first++;
  const places: { m: number; y: number; roomy: boolean }[] = [];
  for (let m = first; yOf(m) < frame.seamMm; m++) {
    const from = Math.max(0, yOf(m));
    const to = Math.min(frame.seamMm, yOf(m + 1));
    places.push({ m, y: (from + to) / 2, roomy: to - from > 0.6 * size });
  }
  // One repeat about the chosen band's end, or about the middle where that band leaves through the top or foot.
  const heart =
    places.find((p) => p.m === 0) ??
    places.reduce((a, b) => (Math.abs(b.y - seamMiddle) < Math.abs(a.y - seamMiddle) ? b : a));
  const reach = 0.55 * (pattern.repeatMm / left.uPerY);
  const shown = places.filter((p) => Math.abs(p.y - heart.y) <= reach);
  const taken: number[] = [];
  const free = (y: number): boolean => taken.every((other) => Math.abs(other - y) > 1.5 * size);
  let svg = '';
  for (const { m, y, roomy } of [heart, ...shown.filter((p) => p !== heart)]) {
    if (!free(y) || !(roomy || m === 0)) continue;
    taken.push(y);
    svg += strokeText(
      bandName(match, sides.left.bandAfter(m)),
      edgeX - 3.8 * grain,
      frame.topY + y + size / 2,
      {
        size,
        anchor: 'end',
        weight: m === 0 ? 0.19 : 0.11,
        colour: m === 0 ? INK : SOFT,
        fitWidth: 20 * grain,
      },
    );
    if (m !== 0) {
      svg += element('path', {
        d: `M${num(edgeX - 2.6 * grain)} ${num(frame.topY + y)}L${num(edgeX - 0.4 * grain)} ${num(frame.topY + y)}`,
        stroke: SOFT,
        'stroke-width': 0.2 * grain,
      });
    }
  }
  return svg;
}

function repeatTable(match: SeamMatch, frame: SeamFrame, caption: SeamCaption): string {
  const { grain } = frame;
  const { pattern, request } = match;
  const x = frame.seamX + frame.halfWidthMm + 4 * grain;
  const right = x + 38 * grain;
  const equal = request.leftDeg === request.rightDeg;
  let y = frame.topY + 2.5 * grain;
  let svg = strokeText(equal ? 'Along the seam' : 'Along the seam, left · right', x, y, {
    size: 2.6 * grain,
    weight: 0.15,
    fitWidth: 38 * grain,
  });
  const pitch = Math.min(5.4 * grain, (52 * grain) / (pattern.bands.length + 1));
  const size = Math.min(2.4 * grain, pitch * 0.5);
  const lengths = (acrossMm: number): string => {
    const [left, rightLength] = match.repeatAlongMm.map((repeat) => (acrossMm * repeat) / pattern.repeatMm);
    return equal
      ? formatLength(left, caption.unit)
      : `${formatLengthNumber(left, caption.unit)} · ${formatLength(rightLength, caption.unit)}`;
  };
  y += 2 * grain;
  pattern.bands.forEach((band, k) => {
    y += pitch;
    svg += element('rect', {
      x,
      y: y - 0.72 * pitch,
      width: 4.4 * grain,
      height: 0.72 * pitch,
      fill: band.srgb,
      stroke: INK,
      'stroke-width': 0.12 * grain,
    });
    const chosen = k === request.centre;
    const style = { size, weight: chosen ? 0.19 : 0.11 };
    svg += strokeText(bandName(match, k), x + 6 * grain, y - 0.1 * pitch, {
      ...style,
      fitWidth: (equal ? 18 : 11) * grain,
    });
    svg += strokeText(lengths(band.widthMm), right, y - 0.1 * pitch, {
      ...style,
      anchor: 'end',
      fitWidth: (equal ? 13 : 20) * grain,
    });
  });
  y += 1.15 * pitch;
  svg += element('path', {
    d: `M${num(x)} ${num(y - 0.78 * pitch)}L${num(right)} ${num(y - 0.78 * pitch)}`,
    stroke: SOFT,
    'stroke-width': 0.15 * grain,
  });
  svg += strokeText('one repeat', x, y, { size, fitWidth: (equal ? 18 : 13) * grain });
  svg += strokeText(lengths(pattern.repeatMm), right, y, {
    size,
    anchor: 'end',
    fitWidth: (equal ? 20 : 22) * grain,
  });
  return svg + verdictLines(match, x, y + 9 * grain, grain, caption);
}

function verdictLines(match: SeamMatch, x: number, y: number, grain: number, caption: SeamCaption): string {
  const small = (mm: number): string => formatSmall(mm, caption.unit);
  const longest = longestMisfitMm(match);
  const lines: [string, string][] = [
    longest > 0 ? ['Longest stretch not meeting', small(longest)] : ['These halves', 'meet'],
  ];
  if (caption.drift !== null) {
    lines.push(['The sides drift, for each repeat', small(caption.drift.perRepeatMm)]);
  } else if (!caption.forced) {
    lines.push(
      caption.expected === null
        ? ['Uneven bands may add', 'not known']
        : ['From any two repeats, 9 times in 10', orLess(caption.expected.p90, caption.unit)],
    );
  }
  let svg = '';
  let at = y;
  lines.forEach(([label, value], i) => {
    const alert = i === 0 && longest > 0;
    svg += strokeText(label, x, at, { size: 2.1 * grain, colour: SOFT, fitWidth: 38 * grain });
    svg += strokeText(value, x, at + 5.4 * grain, {
      size: 3.6 * grain,
      weight: 0.15,
      colour: alert ? ALERT : INK,
      fitWidth: 38 * grain,
    });
    at += 12 * grain;
  });
  return svg;
}

function footer(match: SeamMatch, frame: SeamFrame, caption: SeamCaption): string {
  const { grain } = frame;
  const y = frame.topY + frame.seamMm + 7 * grain;
  const x = frame.seamX - frame.halfWidthMm;
  let svg = scaleBar(x, y, 0.16 * frame.seamMm, frame.scale, caption.unit, grain);
  svg += strokeText(
    `seam ${formatGiven(match.request.seamMm, caption.unit)}, ring at ${formatGiven(match.request.atMm, caption.unit)}`,
    frame.seamX + frame.halfWidthMm,
    y + 1.2 * grain,
    { size: 2.2 * grain, anchor: 'end', colour: SOFT, fitWidth: 40 * grain },
  );
  caption.notes.forEach((note, i) => {
    svg += strokeText(note, 5 * grain, y + (6.5 + 4 * i) * grain, {
      size: 2.2 * grain,
      colour: SOFT,
      fitWidth: 142 * grain,
    });
  });
  return svg;
}
