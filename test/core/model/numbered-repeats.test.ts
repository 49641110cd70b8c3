import { describe, expect, it } from 'vitest';
import { numberedRepeats } from '../../../src/core/model/numbered-repeats.js';
import { tickingModel } from '../../support/ticking-measurement.js';

describe('numberedRepeats', () => {
  it('runs from one repeat to the next without a gap, whichever band was seen first', () => {
    const model = tickingModel();
    // The first two bands of the first repeat lay outside the photo.
    const instances = model.instances.slice(2).map((one) => ({ ...one, repeat: one.repeat - 1 }));
    expect(numberedRepeats({ ...model, instances })).toEqual([
      { repeat: -1, startMm: 0, endMm: 30 },
      { repeat: 0, startMm: 30, endMm: 60 },
      { repeat: 1, startMm: 60, endMm: 90 },
    ]);
  });

  it('numbers nothing without a repeat', () => {
    const { repeat } = tickingModel();
    expect(numberedRepeats(tickingModel({ repeat: { ...repeat, across_mm: null } }))).toEqual([]);
  });
});
