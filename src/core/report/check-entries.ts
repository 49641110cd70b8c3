import {
  anyText,
  check,
  type Expectation,
  finiteNumber,
  listOf,
  numberWithin,
  oneOf,
  orNull,
  record,
  text,
  wholeNumber,
  yesOrNo,
} from '../base/expectation.js';
import type { BatchEntry } from './batch-entry.js';

const figure = orNull(finiteNumber);
const side = wholeNumber({ least: 1 });

const FACTS = record({
  repeatMm: orNull(numberWithin({ above: 0 })),
  repeatSdMm: figure,
  repeatsSeen: finiteNumber,
  confidence: finiteNumber,
  layout: oneOf(['stripe', 'check']),
  balanced: yesOrNo,
  pxPerMm: figure,
  scaleRelativeSd: figure,
  scaleSource: orNull(text),
  tiltDeg: figure,
  bands: listOf(record({ id: text, srgb: text, widthMm: numberWithin({ above: 0 }) })),
  warnings: listOf(record({ code: text, message: text })),
});

const recorded = {
  sha256: orNull(text),
  outcome: oneOf(['measured', 'failed']),
  failure: orNull(record({ reason: text, message: anyText })),
  thumbnail: orNull(record({ uri: text, widthPx: side, heightPx: side })),
  facts: orNull(FACTS),
};

/** An entry without what depends on where the command was given. */
export const RECORDED_ENTRY: Expectation = record(recorded, "a photo's entry");

const ENTRIES = listOf(
  record({ photo: text, folder: orNull(text), ...recorded }),
  {},
  'entries, one a photo',
);

/** Throws UsageError unless an index can list them. */
export const checkEntries = (entries: readonly BatchEntry[]): void => check(entries, 'entries', ENTRIES);
