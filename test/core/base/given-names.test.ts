import { expect, it } from 'vitest';
import { parseGivenNames } from '../../../src/core/base/given-names.js';
import { UsageError } from '../../../src/core/base/outcome.js';

it('reads names, with or without the colour they are for', () => {
  expect(parseGivenNames('ochre, dark  indigo ,b=ivory')).toEqual([
    { name: 'ochre', colour: null },
    { name: 'dark indigo', colour: null },
    { name: 'ivory', colour: 'B' },
  ]);
  expect(parseGivenNames('écru')).toEqual([{ name: 'écru', colour: null }]);
});

it.each(['', 'ochre,', 'A=', '=ochre', 'b3', '7', 'A=b=c', 'x', 'a<b', 'o'.repeat(31)])(
  'takes no %j',
  (text) => {
    expect(() => parseGivenNames(text)).toThrow(UsageError);
    expect(() => parseGivenNames(text)).toThrow(
      /^names: expected names of colours, such as ochre,indigo,ivory/,
    );
  },
);

it.each([
  ['ochre,Ochre', 'expected each name once, received "Ochre" twice'],
  ['A=ochre,a=ivory', 'expected each colour once, received "A" twice'],
])('refuses %j', (text, complaint) => {
  expect(() => parseGivenNames(text)).toThrow(complaint);
});
