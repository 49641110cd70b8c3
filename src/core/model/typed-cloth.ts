import { bandMirrors } from './band-mirrors.js';
import type { BandModel, Warning } from './band-model.js';
import { clothPattern } from './cloth-pattern.js';
import { completeTypedModel } from './complete-typed-model.js';
import { readClothText, type TypedBand, wrong } from './read-cloth-text.js';

/**
 * The band model of a cloth typed in one line, `indigo 14, ivory 9, ochre 4`: the bands of one repeat in order across the stripes, each
 * a colour and its width. Colours are words of the cloth trade, names of CSS or `#rrggbb`; the same colour twice is one. Widths
 * are mm, or have their unit: `14mm`, `1.4cm`, `9/16in`. The last word may be `one-way` or `two-way`; else that stays open
 * (`symmetry.directional` null). Whether the stripes are balanced follows from the bands. The first band starts at 0; nothing was
 * measured, so no width has a spread.
 *
 * Bands of one colour that lie side by side, the last and the first among them, are one band of both widths: a warning says so.
 * Throws UsageError (parameter `cloth`) with the part that is wrong.
 *
 * @example
 * import { typedCloth } from 'stripewright';
 *
 * const { repeat, symmetry } = typedCloth('indigo 14, ivory 9, ochre 4');
 * console.log(repeat.across_mm, symmetry.balanced); // 27 false
 */
export function typedCloth(text: string): BandModel {
  const { bands: typed, oneWay } = readClothText(text);
  const bands = joinNeighbours(typed);
  if (bands.length < 2) {
    throw wrong('received one colour: stripes are two or more, the whole repeat of them');
  }
  const model = modelOf(bands, oneWay, warningsOf(typed, bands));
  const pattern = clothPattern(model);
  if (!pattern.ok) throw new RangeError(pattern.refusal.found);
  const { balanced, axesUMm } = bandMirrors(
    pattern.value,
    bands.map(() => null),
  );
  return {
    ...model,
    symmetry: {
      ...model.symmetry,
      balanced,
      balance_score: balanced ? 1 : 0,
      mirror_axes_mm: axesUMm.map(toNanometre),
    },
  };
}

/** So that 0.1 and 0.2 make 0.3. */
const toNanometre = (mm: number): number => Math.round(mm * 1e6) / 1e6;

function modelOf(
  bands: readonly TypedBand[],
  oneWay: boolean | null,
  warnings: readonly Warning[],
): BandModel {
  const inOrder = bands.filter((band, i) => bands.findIndex(({ srgb }) => srgb === band.srgb) === i);
  const idOf = new Map(inOrder.map(({ srgb }, i) => [srgb, idAt(i)]));
  return completeTypedModel({
    format: 'stripewright.band-model',
    version: 1,
    units: 'mm',
    repeat: { across_mm: toNanometre(bands.reduce((sum, band) => sum + band.widthMm, 0)) },
    colours: inOrder.map(({ srgb, word }, i) => ({
      id: idAt(i),
      srgb,
      ...(word === null ? {} : { name: word, name_given: true }),
    })),
    bands: bands.map(({ srgb, widthMm }, i) => ({
      id: `b${i + 1}`,
      colour: idOf.get(srgb) as string,
      width_mm: widthMm,
    })),
    symmetry: { balanced: false, directional: oneWay },
    warnings,
  });
}

/** A, B, .. Z, AA, AB .. */
const idAt = (i: number): string =>
  (i < 26 ? '' : idAt(Math.floor(i / 26) - 1)) + String.fromCharCode(65 + (i % 26));

/** Neighbours of one colour as one band, also where the repeat ends and begins again. */
function joinNeighbours(typed: readonly TypedBand[]): TypedBand[] {
  const joined: TypedBand[] = [];
  const widen = (band: TypedBand, by: TypedBand): TypedBand => ({
    ...band,
    widthMm: toNanometre(band.widthMm + by.widthMm),
  });
  for (const band of typed) {
    const before = joined.at(-1);
    if (before?.srgb === band.srgb) joined[joined.length - 1] = widen(before, band);
    else joined.push(band);
  }
  if (joined.length > 1 && joined[0].srgb === joined[joined.length - 1].srgb) {
    joined[0] = widen(joined[0], joined.pop() as TypedBand);
  }
  return joined;
}

function warningsOf(typed: readonly TypedBand[], bands: readonly TypedBand[]): Warning[] {
  const warnings: Warning[] = [];
  const list = bands.map(({ srgb, word, widthMm }) => `${word ?? srgb} ${widthMm}`).join(', ');
  if (bands.length < typed.length) {
    warnings.push({
      code: 'bands-joined',
      message: `Bands of one colour lay side by side, or where the repeat ends and begins again, and were taken as one: ${list} (mm).`,
    });
  }
  const bare = typed.some(({ unit }) => unit === null);
  if (bare && typed.some(({ unit }) => unit !== null && unit !== 'mm')) {
    warnings.push({
      code: 'units-mixed',
      message: `Widths without a unit were taken as mm, beside others in another unit: ${list} (mm).`,
    });
  }
  return warnings;
}
