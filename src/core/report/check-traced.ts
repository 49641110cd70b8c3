import {
  check,
  finiteNumber,
  listOf,
  numberWithin,
  oneOf,
  optional,
  orNull,
  record,
  text,
  wholeNumber,
  yesOrNo,
} from '../base/expectation.js';
import type { TracedFile } from '../pipeline/trace/traced-file.js';

const point = listOf(finiteNumber, { least: 2, most: 2 }, 'x and y');

const TRACED_FILE = record(
  {
    photo: record({ width_px: wholeNumber({ least: 1 }), height_px: wholeNumber({ least: 1 }) }),
    scale: record({
      source: text,
      length_mm: orNull(numberWithin({ above: 0 }, 'mm')),
      corners_px: optional(listOf(point)),
      ends_px: optional(listOf(point)),
    }),
    plane: record({ k1: finiteNumber, tilt_deg: finiteNumber }),
    warnings: listOf(record({ code: text, message: text })),
    pieces: listOf(
      record({
        name: text,
        stitching: listOf(point, { least: 3 }, 'points'),
        grain: listOf(point, { least: 2, most: 2 }, 'points'),
        points: record({}),
        notches: optional(listOf(text)),
        traced: record({
          outline: oneOf(['edge', 'drawn']),
          outline_sd_mm: numberWithin({ least: 0 }, 'mm'),
          grain_found: yesOrNo,
          to_photo: listOf(finiteNumber, { least: 9, most: 9 }, 'numbers'),
        }),
      }),
      { least: 1 },
      'pieces',
    ),
  },
  'what assemblePieces gives',
);

/** Throws UsageError unless it has the parts of traced pieces that are shown. */
export const checkTraced = (file: TracedFile): void => check(file, 'file', TRACED_FILE);
