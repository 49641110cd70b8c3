import { describe, expect, it } from 'vitest';
import { optionOf, refusalWithOptions, withOptions } from '../../src/cli/option-words.js';
import { UsageError } from '../../src/node.js';

describe('the words of the library as the command says them', () => {
  it("an error begins with the option's name in place of the parameter's", () => {
    expect(withOptions(new UsageError('expected 10 mm to 10 m, received 0 mm', 'seamMm'))).toBe(
      '--seam: expected 10 mm to 10 m, received 0 mm',
    );
    expect(withOptions(new UsageError('it says nothing of a sheet', 'rulerClass', ['sheet']))).toBe(
      '--ruler-class: it says nothing of a sheet (--sheet)',
    );
  });

  it('a parameter that no option gives keeps its name', () => {
    expect(withOptions(new UsageError('expected 3 channels, received 1', 'photo.picture'))).toBe(
      'photo.picture: expected 3 channels, received 1',
    );
  });

  it('a warning and a refusal end with the options that would settle them', () => {
    const settings = ['region', 'direction'] as const;
    expect(withOptions({ message: 'Say where they are.', settings })).toBe(
      'Say where they are. (--region, --direction)',
    );
    expect(withOptions({ message: 'The camera was tilted.' })).toBe('The camera was tilted.');
    expect(
      refusalWithOptions({ reason: 'no-stripes', found: 'No stripes found', remedy: 'say where', settings }),
    ).toBe('No stripes found: say where (--region, --direction)');
  });

  it('options of two words are written with a hyphen', () => {
    expect(optionOf('rulerClass')).toBe('--ruler-class');
    expect(optionOf('bands')).toBe('--bands');
  });
});
