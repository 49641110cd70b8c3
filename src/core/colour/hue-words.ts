/** One word for a hue, where on its scales of lightness and chroma it is used, and from where on it is dark, light, greyish. */
export interface HueWord {
  readonly word: string;
  /** This word is used from this lightness on, the next of its family below; absent in the last. */
  readonly from?: { readonly lightness: number; readonly perChroma: number };
  /** Only below this chroma. */
  readonly below?: number;
  /** L* below which it is dark, and from which it is light. */
  readonly dark: number;
  readonly light: number;
  /** Chroma below which it is greyish; pale, where light. */
  readonly greyish: number;
}

/** An arc of hue, from where the one before ends. */
export interface HueFamily {
  readonly toDeg: number;
  /** What greys of this hue are called; light ones that are yellowish or pinkish have words of their own. */
  readonly tint: string;
  /** By falling lightness. */
  readonly words: readonly HueWord[];
}

/**
 * Scales of lightness and chroma, halfway between the standard's dark, moderate, light and greyish centroids. One dark does not do
 * for all: "dark yellow" stands there at L* 61, lighter than any blue that is not light.
 */
const MOST = { dark: 34, light: 54, greyish: 0.055 } as const;
const RED = { dark: 34, light: 54, greyish: 0.085 } as const;
const PINK = { dark: 65, light: 78, greyish: 0.045 } as const;
const REDDISH_ORANGE = { dark: 48, light: 76, greyish: 0.09 } as const;
const ORANGE = { dark: 59, light: 76, greyish: 0.09 } as const;
const YELLOW = { dark: 66, light: 80, greyish: 0.09 } as const;
const YELLOW_GREEN = { dark: 55, light: 76, greyish: 0.055 } as const;

const lightness = (least: number) => ({ lightness: least, perChroma: 0 });
/** Oranges and yellows are light or strong: what is neither is a brown or an olive. */
const brilliance = (least: number) => ({ lightness: least, perChroma: 450 });

/** Below this a light orange is a yellowish pink. */
const PEACH = 0.06;

/**
 * Round the circle of Oklab hue; the first arc goes on from the last. The words are those of Level 2 of the ISCC-NBS system
 * (Kelly and Judd, "Color: Universal Language and Dictionary of Names", NBS Special Publication 440, 1976), each limit halfway
 * between the centroids of neighbouring blocks there. One exception: "purplish blue" is called blue, as at Level 1, since what
 * makers call navy and indigo lies on both sides of that line (264 and 269 degrees, its first centroid at 272).
 */
export const HUE_FAMILIES: readonly HueFamily[] = [
  {
    toDeg: 8,
    tint: 'purplish',
    words: [
      { word: 'purplish pink', from: lightness(57), ...PINK },
      { word: 'purplish red', ...RED },
    ],
  },
  {
    toDeg: 31,
    tint: 'reddish',
    words: [
      { word: 'pink', from: lightness(59), ...PINK },
      { word: 'red', ...RED },
    ],
  },
  {
    toDeg: 44,
    tint: 'reddish',
    words: [
      { word: 'yellowish pink', from: lightness(69), ...PINK },
      { word: 'reddish orange', from: brilliance(92), ...REDDISH_ORANGE },
      { word: 'reddish brown', ...MOST },
    ],
  },
  {
    toDeg: 62,
    tint: 'brownish',
    words: [
      { word: 'yellowish pink', from: lightness(69), below: PEACH, ...PINK },
      { word: 'orange', from: brilliance(108), ...ORANGE },
      { word: 'brown', ...MOST },
    ],
  },
  {
    toDeg: 82,
    tint: 'brownish',
    words: [
      { word: 'orange yellow', from: brilliance(108), ...YELLOW },
      { word: 'yellowish brown', ...MOST },
    ],
  },
  {
    toDeg: 98,
    tint: 'olive',
    words: [
      { word: 'yellow', from: brilliance(102), ...YELLOW },
      { word: 'olive brown', ...MOST },
    ],
  },
  {
    toDeg: 111,
    tint: 'olive',
    words: [
      { word: 'greenish yellow', from: brilliance(102), ...YELLOW },
      { word: 'olive', ...MOST },
    ],
  },
  {
    toDeg: 137,
    tint: 'greenish',
    words: [
      { word: 'yellow green', from: lightness(50), ...YELLOW_GREEN },
      { word: 'olive green', ...MOST },
    ],
  },
  { toDeg: 157, tint: 'greenish', words: [{ word: 'yellowish green', ...MOST }] },
  { toDeg: 180, tint: 'greenish', words: [{ word: 'green', ...MOST }] },
  { toDeg: 203, tint: 'greenish', words: [{ word: 'bluish green', ...MOST }] },
  { toDeg: 230, tint: 'bluish', words: [{ word: 'greenish blue', ...MOST }] },
  { toDeg: 286, tint: 'bluish', words: [{ word: 'blue', ...MOST }] },
  { toDeg: 309, tint: 'purplish', words: [{ word: 'violet', ...MOST }] },
  { toDeg: 330, tint: 'purplish', words: [{ word: 'purple', ...MOST }] },
  { toDeg: 345, tint: 'purplish', words: [{ word: 'reddish purple', ...MOST }] },
];
