import { formatSmall } from '../base/length.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { bandNames } from './band-names.js';
import { stripesSvg } from './half-stripes.js';
import { INK, SOFT } from './ink.js';
import type { Pane } from './page.js';
import type { Sheet } from './picture-svg.js';
import { repeatTable, type SeamCaption } from './repeat-table.js';
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
import { bandName, degrees, formatGiven, layWords, titleOf } from './words.js';

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

function footer(match: SeamMatch, frame: SeamFrame, caption: SeamCaption): string {
  const { grain } = frame;
  const y = frame.topY + frame.seamMm + 7 * grain;
  const x = frame.seamX - frame.halfWidthMm;
  let svg = scaleBar(x, y, 0.16 * frame.seamMm, frame.scale, caption.unit, grain);
  svg += strokeText(
    `seam ${formatGiven(match.request.seamMm, caption.unit)}, ringed point at ${formatGiven(match.request.atMm, caption.unit)}`,
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
