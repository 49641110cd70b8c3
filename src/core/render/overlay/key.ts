import { type LengthUnit, unitMark } from '../../base/length.js';
import { INK } from '../ink.js';
import { CLEAR_MM, type OverlayMarks } from '../overlay-marks.js';
import { strokeText, textWidth, wrapText } from '../stroke-text.js';
import { element } from '../svg.js';
import { formatGiven } from '../words.js';
import { LINES, type LineKind, lines, openPath } from './lines.js';
import type { OverlayWords } from './words.js';

/** A part of the picture under the photo. */
interface Strip {
  readonly height: number;
  readonly body: string;
}

/** Under the photo: the caption, how to find 0 again, the bands of one repeat by name, and what each line means. */
export function keyStrip(marks: OverlayMarks, words: OverlayWords, width: number, grain: number): Strip {
  const margin = 14 * grain;
  const inner = width - 2 * margin;
  const parts: string[] = [];
  let y = 27 * grain;
  parts.push(strokeText(words.caption, margin, y, { size: 12 * grain, weight: 0.14, fitWidth: inner }));
  y += 8 * grain;
  const bands = bandStrip(words.bands, inner, grain);
  parts.push(element('g', { transform: `translate(${margin} ${y})` }, bands.body));
  y += bands.height + 14 * grain;
  if (words.origin !== null) {
    for (const line of wrapText(words.origin, inner, 9 * grain)) {
      parts.push(strokeText(line, margin, y, { size: 9 * grain, fitWidth: inner }));
      y += 16 * grain;
    }
  }
  const legend = legendRows(legendEntries(marks, words.unit), inner, grain);
  parts.push(element('g', { transform: `translate(${margin} ${y})` }, legend.body));
  const height = Math.ceil(y + legend.height);
  return { height, body: element('rect', { width, height, fill: '#ffffff' }) + parts.join('') };
}

/** One repeat, widths in proportion, but none narrower than its name; nothing where names would not fit. */
function bandStrip(bands: OverlayWords['bands'], inner: number, grain: number): Strip {
  const size = 8 * grain;
  const head = 'one repeat, in order: ';
  const from = textWidth(head, 9 * grain) + 10 * grain;
  const least = bands.map(({ id }) => textWidth(id, size) + size);
  const total = bands.reduce((sum, { widthMm }) => sum + widthMm, 0);
  const spare = Math.min(inner, 560 * grain) - from - least.reduce((sum, w) => sum + w, 0);
  if (bands.length === 0 || spare < 0) return { height: 0, body: '' };
  const height = 12 * grain;
  let x = from;
  let body = strokeText(head, 0, 12 * grain, { size: 9 * grain });
  bands.forEach(({ id, srgb, widthMm }, k) => {
    const width = least[k] + (spare * widthMm) / total;
    body +=
      element('rect', { x, width, height, fill: srgb, stroke: INK, 'stroke-width': 0.8 * grain }) +
      strokeText(id, x + width / 2, height + 12 * grain, { size, anchor: 'middle', weight: 0.15 });
    x += width;
  });
  return { height: height + 14 * grain, body };
}

function legendEntries(marks: OverlayMarks, unit: LengthUnit): readonly (readonly [LineKind, string])[] {
  return [
    ['edge', 'edge of a band'],
    ...(marks.repeatOutline ? [['repeat', 'one repeat'] as const] : []),
    ...(marks.repeats.length > 0 ? [['number', 'number of a repeat'] as const] : []),
    ...(marks.zeroLine ? [['zero', `0 of lengths along the stripes, ${unitMark(unit)}`] as const] : []),
    ...(marks.motifCell ? [['cell', 'one cell of the print'] as const] : []),
    ...(marks.intrusions.length > 0 ? [['intrusion', 'motif on a band'] as const] : []),
    ...(marks.cleanAngleDeg !== null
      ? [
          [
            'clean',
            `clean places: a seam at ${marks.cleanAngleDeg}° that crosses b1 there keeps ${formatGiven(CLEAR_MM, unit)} clear of motifs`,
          ] as const,
        ]
      : []),
    ...(marks.referenceOutline || marks.ends
      ? [['reference', marks.ticks.length > 0 ? 'ruler and its marks' : 'taken as known'] as const]
      : []),
    ...(marks.region ? [['region', 'part read for stripes, as given'] as const] : []),
    ...(marks.direction ? [['direction', 'direction as given'] as const] : []),
  ];
}

/** In as many rows as it takes. */
function legendRows(entries: readonly (readonly [LineKind, string])[], inner: number, grain: number): Strip {
  const size = 9 * grain;
  const sample = 34 * grain;
  const row = 20 * grain;
  let x = 0;
  let y = 4 * grain;
  let body = '';
  for (const [kind, text] of entries) {
    const width = sample + 8 * grain + textWidth(text, size);
    if (x > 0 && x + width > inner) {
      x = 0;
      y += row;
    }
    body += kind === 'number' ? numberSample(x, y, sample, grain) : lineSample(kind, x, y, sample, grain);
    body += strokeText(text, x + sample + 8 * grain, y + size / 2, { size, fitWidth: inner });
    x += width + 26 * grain;
  }
  return { height: y + row, body };
}

const lineSample = (kind: LineKind, x: number, y: number, length: number, grain: number): string =>
  lines(
    kind,
    openPath([
      [x, y],
      [x + length, y],
    ]),
    2 * grain,
    grain,
  );

function numberSample(x: number, y: number, length: number, grain: number): string {
  const { colour } = LINES.number;
  const size = 8 * grain;
  return (
    element('rect', {
      x: x + length - 22 * grain,
      y: y - 8 * grain,
      width: 22 * grain,
      height: 16 * grain,
      rx: 4 * grain,
      fill: '#ffffff',
      stroke: colour,
      'stroke-width': 1.4 * grain,
    }) +
    strokeText('-1', x + length - 11 * grain, y + size / 2, { size, anchor: 'middle', colour, weight: 0.17 })
  );
}
