import { describe, expect, it } from 'vitest';
import { bandCsv } from '../../../src/core/report/band-csv.js';
import { readCsv } from '../../support/read-csv.js';
import { tickingModel } from '../../support/ticking-measurement.js';

describe('bandCsv', () => {
  it('holds one row an instance, in order, all of one length', () => {
    const model = tickingModel();
    const [heading, ...rows] = readCsv(bandCsv(model));
    expect(rows).toHaveLength(model.instances.length);
    for (const row of rows) expect(row).toHaveLength(heading.length);
    const column = (name: string) => rows.map((row) => row[heading.indexOf(name)]);
    expect(column('band')).toEqual(model.instances.map((one) => one.band));
    expect(column('width_mm').map(Number)).toEqual(model.instances.map((one) => one.width_mm));
    expect(column('width_sd_mm')[0]).toBe('');
    expect(column('whole')[0]).toBe('false');
    expect(new Set(column('direction'))).toEqual(new Set(['across']));
  });

  it('lists the second direction of a check after the first', () => {
    const model = tickingModel();
    const { repeat, bands, instances } = model;
    const rows = readCsv(bandCsv({ ...model, check: { repeat, bands, instances } })).slice(1);
    expect(rows.map((row) => row[0])).toEqual([
      ...instances.map(() => 'across'),
      ...instances.map(() => 'along'),
    ]);
  });

  it('cannot run as a formula and survives any text', () => {
    for (const name of ['=1+1', '+1', '-1', '@SUM(A1)', '\tx', 'blue, "deep"', 'two\r\nlines']) {
      const model = tickingModel();
      const colours = model.colours.map((colour) => ({ ...colour, name }));
      const rows = readCsv(bandCsv({ ...model, colours }));
      const cell = rows[1][rows[0].indexOf('colour_name')];
      expect(cell.replace(/^'/, '')).toBe(name);
      expect(cell).not.toMatch(/^[=+\-@\t]/);
    }
  });
});
