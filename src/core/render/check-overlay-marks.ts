import { type Expectation, finiteNumber, listOf, orNull, record, text } from '../base/expectation.js';

const point = listOf(finiteNumber, { least: 2, most: 2 }, 'pixels, x and y');
const line = listOf(point);
const pair = listOf(point, { least: 2, most: 2 }, 'points');
const twoEnds = orNull(pair);
const levels = listOf(record({ vMm: finiteNumber, ends: pair }));

/** See `OverlayMarks`. */
export const OVERLAY_MARKS: Expectation = record(
  {
    referenceOutline: orNull(line),
    ticks: listOf(record({ foot: point, tip: point, rank: finiteNumber })),
    ends: twoEnds,
    edges: listOf(line),
    bandLabels: listOf(record({ band: text, at: point, edges: pair })),
    repeats: listOf(record({ repeat: finiteNumber, start: orNull(pair), middle: orNull(pair) })),
    levels: record({ mm: levels, inch: levels }),
    zeroLine: orNull(line),
    origin: orNull(record({ at: point, onZeroLine: point, vMm: finiteNumber })),
    repeatOutline: orNull(line),
    repeatDimension: twoEnds,
    region: orNull(line),
    direction: twoEnds,
    motifCell: orNull(line),
    intrusions: listOf(line),
    cleanPlaces: listOf(line),
    cleanAngleDeg: orNull(finiteNumber),
  },
  'what measureCloth marks',
);
