import { check, finiteNumber, listOf, numberWithin, orNull, record, text } from '../base/expectation.js';
import type { BandModel } from './band-model.js';

/** One repeat of the photographed cloth: its number, as instances carry it, and where it begins and ends across the stripes. */
export interface NumberedRepeat {
  readonly repeat: number;
  readonly startMm: number;
  readonly endMm: number;
}

const COUNTED = record(
  {
    repeat: record({ across_mm: orNull(numberWithin({ above: 0 }, 'mm')) }),
    bands: listOf(record({ id: text, start_mm: finiteNumber })),
    instances: listOf(
      record({ band: text, repeat: finiteNumber, start_mm: finiteNumber, end_mm: finiteNumber }),
    ),
  },
  'a band model',
);

/** Every repeat that was seen, a part of it at least, in order; none where the model has no repeat. */
export function numberedRepeats(model: BandModel): NumberedRepeat[] {
  check(model, 'model', COUNTED);
  const { repeat, bands, instances } = model;
  const { across_mm } = repeat;
  if (across_mm === null || bands.length === 0) return [];
  const offsets = new Map(bands.map((band) => [band.id, band.start_mm - bands[0].start_mm]));
  const starts = new Map<number, number>();
  for (const one of instances) {
    // The first band tells where a repeat begins; where it was not seen, the first that was.
    if (starts.has(one.repeat)) continue;
    starts.set(one.repeat, one.start_mm - (offsets.get(one.band) ?? 0));
  }
  return [...starts]
    .sort(([p], [q]) => p - q)
    .map(([number, startMm]) => ({
      repeat: number,
      startMm,
      endMm: starts.get(number + 1) ?? startMm + across_mm,
    }));
}
