import { describe, expect, it } from 'vitest';
import { parseGivenNames } from '../../../src/core/base/given-names.js';
import { formatBandModel } from '../../../src/core/model/format-band-model.js';
import { nameColours } from '../../../src/core/model/name-colours.js';
import { parseBandModel } from '../../../src/core/model/parse-band-model.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import { tickingModel } from '../../support/ticking-measurement.js';

// A is indigo, B ivory, C ochre.
const named = (names: string) => nameColours(tickingModel(), parseGivenNames(names));
const namesOf = (names: string) => named(names).colours.map(({ name }) => name);
const doubtsOf = (names: string) =>
  named(names)
    .warnings.filter(({ code }) => code === 'names-unsure')
    .map(({ message }) => message);

describe('nameColours', () => {
  it('gives known words to the colours they mean, whatever their order', () => {
    for (const names of ['indigo,ivory,ochre', 'ochre,indigo,ivory', 'ivory,ochre,indigo']) {
      expect(namesOf(names)).toEqual(['indigo', 'ivory', 'ochre']);
      expect(doubtsOf(names)).toEqual([]);
    }
  });

  it('gives other words to the colours left, in their order', () => {
    expect(namesOf('ground,line')).toEqual(['ground', 'line', 'peru']);
    expect(namesOf('ground,navy,line')).toEqual(['navy', 'ground', 'line']);
  });

  it('keeps to the letter where one is given', () => {
    expect(namesOf('C=ochre')).toEqual(['dark slate blue', 'antique white', 'ochre']);
    expect(namesOf('B=navy,C=ivory,A=goldenrod')).toEqual(['goldenrod', 'navy', 'ivory']);
    expect(doubtsOf('B=navy')).toEqual([]);
  });

  it('marks what was given and nothing else', () => {
    const { colours } = named('navy');
    expect(colours.map((colour) => colour.name_given)).toEqual([true, undefined, undefined]);
    const model = tickingModel();
    expect(nameColours(model, [])).toBe(model);
  });

  it('says what might be the other way round, what is far off and what is left over', () => {
    expect(doubtsOf('cornsilk,ivory,navy')[0]).toMatch(
      /might be the other way round: .* give the names as [BC]=/,
    );
    expect(doubtsOf('magenta')).toEqual([expect.stringContaining('is now called magenta, but it looks ')]);
    expect(doubtsOf('navy,ivory,ochre,ground')).toEqual([
      expect.stringMatching(/^ground is left over: .*A \(dark slate blue\)/),
    ]);
    expect(doubtsOf('D=ochre')).toEqual([expect.stringContaining('There is no colour D to be called ochre')]);
  });

  it('is kept in the file, and a seam can be asked for by the name', async () => {
    const read = await parseBandModel(formatBandModel(named('indigo,ivory,C=mustard')));
    if (!read.ok) throw new Error(read.refusal.found);
    expect(read.value.colours[2]).toMatchObject({ name: 'mustard', name_given: true });
    const preview = previewSeams(read.value, { ...DEFAULT_CHEVRON, centres: ['Mustard'] });
    if (!preview.ok) throw new Error(preview.refusal.found);
    expect(
      preview.value.rows[0][0].match.pattern.bands[preview.value.rows[0][0].match.request.centre].id,
    ).toBe('b3');
  });
});
