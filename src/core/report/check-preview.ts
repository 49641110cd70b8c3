import {
  callback,
  check,
  type Expectation,
  finiteNumber,
  listOf,
  numberWithin,
  orNull,
  record,
  text,
  yesOrNo,
} from '../base/expectation.js';
import type { ChevronPreview } from '../seam/chevron-preview.js';

const positive = numberWithin({ above: 0 });
const some = { least: 1 } as const;

const PATTERN: Expectation = record({ repeatMm: positive, bands: listOf(record({ id: text }), some) });

const SEAM: Expectation = record(
  {
    match: record({
      request: record({}),
      pattern: PATTERN,
      crossings: listOf(record({})),
      unmatched: listOf(record({})),
    }),
    expected: listOf(orNull(record({}))),
    worst: orNull(record({ cloth: record({}), sewn: record({}) })),
    best: orNull(
      record({
        left: record({ repeat: finiteNumber }),
        right: record({ repeat: finiteNumber }),
        crossings: listOf(record({})),
      }),
    ),
    bestExpected: orNull(record({})),
    agree: listOf(record({})),
    drift: orNull(record({})),
    shares: record({ left: listOf(record({})), right: listOf(record({})) }),
    cutEdge: record({}),
    clear: orNull(record({})),
    cross: orNull(record({})),
  },
  'a seam as previewSeams gives it',
);

const PREVIEW: Expectation = record(
  {
    pattern: PATTERN,
    verdict: record({
      sentence: text,
      lays: listOf(record({})),
      doubts: listOf(record({})),
      mirror: record({}),
    }),
    lay: record({ lay: text, allowed: text, reason: text }),
    forced: yesOrNo,
    axisUMm: orNull(numberWithin({})),
    sequence: orNull(record({ edgeU: callback })),
    lattice: orNull(record({ acrossMm: positive, alongMm: positive, dropMm: numberWithin({}) })),
    rows: listOf(listOf(SEAM, some), some),
    allowanceMm: numberWithin({ least: 0 }),
    shiftMm: finiteNumber,
    handlingMm: numberWithin({ least: 0 }),
    visibleMm: numberWithin({ least: 0 }),
    agreeAtMm: orNull(finiteNumber),
  },
  'what previewSeams gives',
);

/** Throws UsageError unless it has the parts of a preview; their own numbers are taken on trust. */
export const checkPreview = (preview: ChevronPreview): void => check(preview, 'preview', PREVIEW);
