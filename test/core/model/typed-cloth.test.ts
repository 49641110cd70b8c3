import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { CLOTH_WORDS } from '../../../src/core/colour/cloth-words.js';
import { bandModelSchema } from '../../../src/core/model/band-model-schema.js';
import { formatBandModel } from '../../../src/core/model/format-band-model.js';
import { parseBandModel } from '../../../src/core/model/parse-band-model.js';
import { typedCloth } from '../../../src/core/model/typed-cloth.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const words = new Map(CLOTH_WORDS);
const bandsOf = (text: string): [string, number][] => {
  const model = typedCloth(text);
  return model.bands.map(({ colour, width_mm }) => [
    model.colours.find(({ id }) => id === colour)?.name ?? '',
    width_mm,
  ]);
};

describe('a cloth typed in one line', () => {
  it('has its bands and its repeat as typed', () => {
    const model = typedCloth('indigo 14, ivory 9, ochre 4');
    expect(model.bands.map(({ id, start_mm, width_mm }) => [id, start_mm, width_mm])).toEqual([
      ['b1', 0, 14],
      ['b2', 14, 9],
      ['b3', 23, 4],
    ]);
    expect(model.repeat.across_mm).toBe(27);
    expect(model.colours.map(({ id, name, srgb }) => [id, name, srgb])).toEqual([
      ['A', 'indigo', words.get('indigo')],
      ['B', 'ivory', words.get('ivory')],
      ['C', 'ochre', words.get('ochre')],
    ]);
    expect(model.symmetry.directional).toBeNull();
    expect(model.warnings).toEqual([]);
  });

  it('is a model of either schema, and draws a seam: drawn cloths, seed 7', async () => {
    const random = seededRandom(7);
    const validate = new Ajv2020({ allowUnionTypes: true }).compile(bandModelSchema);
    for (let n = 0; n < 20; n++) {
      const count = 2 + Math.floor(6 * random.uniform());
      const used = Array.from({ length: count }, (_, i) => CLOTH_WORDS[(n + 7 * i) % CLOTH_WORDS.length][0]);
      const widths = used.map(() => Math.round(2 + 30 * random.uniform()) / 2);
      const line = used.map((word, i) => `${word} ${widths[i]}`).join(', ');
      const model = typedCloth(line);
      expect(bandsOf(line), line).toEqual(used.map((word, i) => [word, widths[i]]));
      expect(validate(model), line).toBe(true);
      const read = await parseBandModel(formatBandModel(model));
      expect(read.ok, line).toBe(true);
      const seams = previewSeams(model, { ...DEFAULT_CHEVRON, angles: [[45, 45]], centres: ['b1'] });
      expect(seams.ok, line).toBe(true);
      if (!seams.ok) continue;
      expect(seams.value.verdict.doubts, line).toEqual([]);
      expect(seams.value.pattern.repeatMm).toBeCloseTo(
        widths.reduce((a, b) => a + b),
        9,
      );
    }
  });

  it('takes a colour twice as one, however it is written', () => {
    const model = typedCloth('Off-White 5, bottle  green 3, off white 2, #1E4736 4, gray 1, Grey  2, plum 1');
    expect(model.colours.map(({ name }) => name)).toEqual(['off-white', 'bottle green', 'gray', 'plum']);
    expect(model.bands.map(({ colour }) => colour)).toEqual(['A', 'B', 'A', 'B', 'C', 'D']);
  });

  it('knows names of CSS, and colours in numbers', () => {
    const model = typedCloth('RebeccaPurple 3, #C48A2C 4');
    // CSS Color Module Level 4, section 6.1.
    expect(model.colours[0].srgb).toBe('#663399');
    expect(model.colours[1]).toMatchObject({ srgb: '#c48a2c' });
    expect(model.colours[1].name_given).toBeUndefined();
  });

  it.each([
    ['14', 14],
    ['14mm', 14],
    ['14 MM', 14],
    ['1.4cm', 14],
    ['1/2in', 12.7],
    ['1 1/4 in', 31.75],
    ['5/8"', 15.875],
    ['.5', 0.5],
  ])('a width of %s is %d mm', (width, mm) => {
    expect(bandsOf(`indigo ${width}, ivory 9mm`)[0]).toEqual(['indigo', mm]);
  });

  it('ends with a word on its direction', () => {
    expect(typedCloth('indigo 14, ivory 9, one-way').symmetry.directional).toBe(true);
    expect(typedCloth('indigo 14, ivory 9 two way').symmetry.directional).toBe(false);
  });

  // Frieze groups: two colours always have a mirror; A B C with three colours has none, A B C B has.
  it.each([
    ['indigo 14, ivory 9', true, [7, 18.5]],
    ['indigo 14, ivory 9, ochre 4', false, []],
    ['indigo 14, ivory 9, ochre 4, ivory 9', true, [7, 25]],
    ['indigo 14, ivory 9, ochre 4, ivory 7', false, []],
  ])('%s: balanced %s', (line, balanced, axes) => {
    const { symmetry } = typedCloth(line);
    expect(symmetry).toMatchObject({ balanced, mirror_axes_mm: axes });
  });

  it('joins neighbours of one colour, also where the repeat begins again, and says so', () => {
    const inside = typedCloth('indigo 14, ivory 5, ivory 4');
    expect(inside.bands.map(({ width_mm }) => width_mm)).toEqual([14, 9]);
    const round = typedCloth('indigo 8, ivory 9, indigo 6');
    expect(round.bands.map(({ width_mm }) => width_mm)).toEqual([14, 9]);
    expect(round.symmetry.balanced).toBe(true);
    expect(round.repeat.across_mm).toBe(23);
    for (const model of [inside, round]) {
      expect(model.warnings).toMatchObject([
        { code: 'bands-joined', message: expect.stringContaining('indigo 14, ivory 9 (mm)') },
      ]);
    }
  });

  it('tells that widths without a unit are mm where others are in inches', () => {
    expect(typedCloth('indigo 1, ivory 1/2in').warnings).toMatchObject([
      { code: 'units-mixed', message: expect.stringContaining('indigo 1, ivory 12.7') },
    ]);
    expect(typedCloth('indigo 14, ivory 9mm').warnings).toEqual([]);
  });

  it.each([
    ['', 'received nothing'],
    ['indigo 14', 'received one colour'],
    ['indigo 14, indigo 3', 'received one colour'],
    ['indigo 14, ivory', 'part 2, "ivory", has no width'],
    ['indigo 14, ivroy 9', 'part 2, "ivroy 9", has a colour that is not known: is it ivory?'],
    ['zzzzzz 14, ivory 9', 'part 1, "zzzzzz 14", has a colour that is not known: a colour can be told'],
    ['indigo 14,5, ivory 9', 'part 2, "5", has no colour before its number (a part of a mm'],
    ['indigo 14, , ivory 9', 'part 2 is empty'],
    ['indigo 14, ivory 9,', 'part 3 is empty'],
    ['indigo 14, ivory 9km', 'part 2, "ivory 9km", has a width that cannot be read'],
    ['indigo 1/2, ivory 9', 'part 1, "indigo 1/2", has a width that cannot be read'],
    ['indigo 1/0in, ivory 9', 'part 1, "indigo 1/0in", has a width that cannot be read'],
    ['indigo 14 3, ivory 9', 'part 1, "indigo 14 3", has a width that cannot be read'],
    ['indigo 14, ivory 0', 'part 2, "ivory 0", is 0 mm wide: a band is from 0.1 to 5000 mm'],
    ['indigo 0.09, ivory 9', 'part 1, "indigo 0.09", is 0.09 mm wide'],
    ['indigo 5001, ivory 9', 'part 1, "indigo 5001", is 5001 mm wide'],
    ['indigo -3, ivory 9', 'part 1, "indigo -3", is -3 mm wide'],
    ['#abc 3, ivory 9', 'part 1, "#abc 3", has a colour in numbers that is not'],
    ['indigo 14, one-way, ivory 9', 'part 2, "one-way", belongs at the end'],
  ])('says which part of %j is wrong, and shows an example', (line, found) => {
    expect(() => typedCloth(line)).toThrow(found);
    expect(() => typedCloth(line)).toThrow(
      /^cloth: expected a colour and its width in each part, such as "indigo 14, ivory 9, ochre 4"; /,
    );
  });

  it('takes nothing but text', () => {
    expect(() => typedCloth(14 as unknown as string)).toThrow('received number');
  });
});
