import { check, finiteNumber, listOf } from '../base/expectation.js';
import { HUE_FAMILIES, type HueFamily } from './hue-words.js';
import type { Lab } from './lab.js';
import { oklabFromLab } from './oklab.js';

/** Oklab chroma up to which a colour shows no hue: of the standard's plain greys the furthest is 0.004, of its tinted ones the nearest 0.005 to 0.009. */
const NEUTRAL = 0.008;
/** And up to which it is a tinted grey: its greys end at 0.020, its greyish colours begin there. */
const TINTED = 0.022;
/** Whites and light greys that are yellowish go further, to 0.03 (its first pale yellow: 0.076): unbleached cloth is no yellow. */
const WARM = { fromDeg: 62, toDeg: 111, lightness: 66.6, tinted: 0.05 } as const;

/** L* between the standard's yellowish grey (75), which makers call beige, and its yellowish white (92), their cream; a little low, as photos show white cloth. */
const CREAM = 80;

/** From here a colour is vivid and neither dark nor light, unless darker than L* 28: navy is dark. */
const VIVID = { chroma: 0.165, lightness: 28 } as const;
/** Dark colours have less room for chroma: the standard's dark greyish ones end at 0.033, its dark ones begin at 0.044. */
const DARK_GREYISH = { below: 34, chroma: 0.038 } as const;

/** L* of Munsell value 2.5, 4.5, 6.5 and 8.5 (ASTM D1535), where the ISCC-NBS system parts black, greys and white. */
const GREYS: readonly (readonly [below: number, grade: string, word: string])[] = [
  [25.6, '', 'black'],
  [46.4, 'dark', 'grey'],
  [66.6, '', 'grey'],
  [86.2, 'light', 'grey'],
  [Number.POSITIVE_INFINITY, '', 'white'],
];

/**
 * A colour in plain words: "dark blue", "greyish green", "light yellowish brown", "cream". The words and where each is used follow
 * the ISCC-NBS system (see HUE_FAMILIES) with few of its modifiers: dark, light, pale, greyish, vivid. "Moderate" and "strong" go
 * without saying, and its yellowish white and grey are what makers call cream and beige.
 */
export function plainName(lab: Lab): string {
  check(lab, 'lab', LAB);
  const [, a, b] = oklabFromLab(lab);
  const chroma = Math.hypot(a, b);
  const hueDeg = ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360;
  const family = HUE_FAMILIES.find((one) => hueDeg < one.toDeg) ?? HUE_FAMILIES[0];
  const isWarm = lab[0] >= WARM.lightness && hueDeg >= WARM.fromDeg && hueDeg < WARM.toDeg;
  return chroma < (isWarm ? WARM.tinted : TINTED)
    ? greyName(lab[0], chroma, isWarm ? 'yellowish' : family.tint)
    : hueName(lab[0], chroma, family);
}

function greyName(lightness: number, chroma: number, tint: string): string {
  const [, grade, word] = GREYS.find(([below]) => lightness < below) ?? GREYS[GREYS.length - 1];
  if (chroma < NEUTRAL) return joined(grade, word);
  if (tint === 'yellowish') return lightness >= CREAM ? 'cream' : 'beige';
  return joined(grade, tint === 'reddish' && lightness >= WARM.lightness ? 'pinkish' : tint, word);
}

function hueName(lightness: number, chroma: number, { words }: HueFamily): string {
  const found = words.find(
    ({ from, below }) =>
      (from === undefined || lightness + from.perChroma * chroma >= from.lightness) &&
      (below === undefined || chroma < below),
  );
  const { word, dark, light, greyish } = found ?? words[words.length - 1];
  if (chroma >= VIVID.chroma && lightness >= VIVID.lightness) return joined('vivid', word);
  const isGreyish = chroma < (lightness < DARK_GREYISH.below ? DARK_GREYISH.chroma : greyish);
  if (lightness >= light) return joined(isGreyish ? 'pale' : 'light', word);
  return joined(lightness < dark ? 'dark' : '', isGreyish ? 'greyish' : '', word);
}

const LAB = listOf(finiteNumber, { least: 3, most: 3 }, 'CIELAB values');

const joined = (...words: readonly string[]): string => words.filter((word) => word !== '').join(' ');
