import { CLOTH_WORDS } from './cloth-words.js';
import { type Lab, labFromRgb8 } from './lab.js';
import { rgb8FromHex } from './srgb.js';

/**
 * The named colours of CSS Color Module Level 4 (W3C), section 6.1: a neutral list that browsers and drawing
 * programs know. Of the 148 keywords the nine that only spell one of these anew (aqua, fuchsia, "gray") follow below.
 * Written as words: joined, they are the keyword.
 */
const namedColours: readonly (readonly [words: string, hex: string])[] = [
  ['alice blue', '#f0f8ff'],
  ['antique white', '#faebd7'],
  ['aquamarine', '#7fffd4'],
  ['azure', '#f0ffff'],
  ['beige', '#f5f5dc'],
  ['bisque', '#ffe4c4'],
  ['black', '#000000'],
  ['blanched almond', '#ffebcd'],
  ['blue', '#0000ff'],
  ['blue violet', '#8a2be2'],
  ['brown', '#a52a2a'],
  ['burly wood', '#deb887'],
  ['cadet blue', '#5f9ea0'],
  ['chartreuse', '#7fff00'],
  ['chocolate', '#d2691e'],
  ['coral', '#ff7f50'],
  ['cornflower blue', '#6495ed'],
  ['cornsilk', '#fff8dc'],
  ['crimson', '#dc143c'],
  ['cyan', '#00ffff'],
  ['dark blue', '#00008b'],
  ['dark cyan', '#008b8b'],
  ['dark goldenrod', '#b8860b'],
  ['dark green', '#006400'],
  ['dark grey', '#a9a9a9'],
  ['dark khaki', '#bdb76b'],
  ['dark magenta', '#8b008b'],
  ['dark olive green', '#556b2f'],
  ['dark orange', '#ff8c00'],
  ['dark orchid', '#9932cc'],
  ['dark red', '#8b0000'],
  ['dark salmon', '#e9967a'],
  ['dark sea green', '#8fbc8f'],
  ['dark slate blue', '#483d8b'],
  ['dark slate grey', '#2f4f4f'],
  ['dark turquoise', '#00ced1'],
  ['dark violet', '#9400d3'],
  ['deep pink', '#ff1493'],
  ['deep sky blue', '#00bfff'],
  ['dim grey', '#696969'],
  ['dodger blue', '#1e90ff'],
  ['fire brick', '#b22222'],
  ['floral white', '#fffaf0'],
  ['forest green', '#228b22'],
  ['gainsboro', '#dcdcdc'],
  ['ghost white', '#f8f8ff'],
  ['gold', '#ffd700'],
  ['goldenrod', '#daa520'],
  ['green', '#008000'],
  ['green yellow', '#adff2f'],
  ['grey', '#808080'],
  ['honeydew', '#f0fff0'],
  ['hot pink', '#ff69b4'],
  ['indian red', '#cd5c5c'],
  ['indigo', '#4b0082'],
  ['ivory', '#fffff0'],
  ['khaki', '#f0e68c'],
  ['lavender', '#e6e6fa'],
  ['lavender blush', '#fff0f5'],
  ['lawn green', '#7cfc00'],
  ['lemon chiffon', '#fffacd'],
  ['light blue', '#add8e6'],
  ['light coral', '#f08080'],
  ['light cyan', '#e0ffff'],
  ['light goldenrod yellow', '#fafad2'],
  ['light green', '#90ee90'],
  ['light grey', '#d3d3d3'],
  ['light pink', '#ffb6c1'],
  ['light salmon', '#ffa07a'],
  ['light sea green', '#20b2aa'],
  ['light sky blue', '#87cefa'],
  ['light slate grey', '#778899'],
  ['light steel blue', '#b0c4de'],
  ['light yellow', '#ffffe0'],
  ['lime', '#00ff00'],
  ['lime green', '#32cd32'],
  ['linen', '#faf0e6'],
  ['magenta', '#ff00ff'],
  ['maroon', '#800000'],
  ['medium aquamarine', '#66cdaa'],
  ['medium blue', '#0000cd'],
  ['medium orchid', '#ba55d3'],
  ['medium purple', '#9370db'],
  ['medium sea green', '#3cb371'],
  ['medium slate blue', '#7b68ee'],
  ['medium spring green', '#00fa9a'],
  ['medium turquoise', '#48d1cc'],
  ['medium violet red', '#c71585'],
  ['midnight blue', '#191970'],
  ['mint cream', '#f5fffa'],
  ['misty rose', '#ffe4e1'],
  ['moccasin', '#ffe4b5'],
  ['navajo white', '#ffdead'],
  ['navy', '#000080'],
  ['old lace', '#fdf5e6'],
  ['olive', '#808000'],
  ['olive drab', '#6b8e23'],
  ['orange', '#ffa500'],
  ['orange red', '#ff4500'],
  ['orchid', '#da70d6'],
  ['pale goldenrod', '#eee8aa'],
  ['pale green', '#98fb98'],
  ['pale turquoise', '#afeeee'],
  ['pale violet red', '#db7093'],
  ['papaya whip', '#ffefd5'],
  ['peach puff', '#ffdab9'],
  ['peru', '#cd853f'],
  ['pink', '#ffc0cb'],
  ['plum', '#dda0dd'],
  ['powder blue', '#b0e0e6'],
  ['purple', '#800080'],
  ['rebecca purple', '#663399'],
  ['red', '#ff0000'],
  ['rosy brown', '#bc8f8f'],
  ['royal blue', '#4169e1'],
  ['saddle brown', '#8b4513'],
  ['salmon', '#fa8072'],
  ['sandy brown', '#f4a460'],
  ['sea green', '#2e8b57'],
  ['seashell', '#fff5ee'],
  ['sienna', '#a0522d'],
  ['silver', '#c0c0c0'],
  ['sky blue', '#87ceeb'],
  ['slate blue', '#6a5acd'],
  ['slate grey', '#708090'],
  ['snow', '#fffafa'],
  ['spring green', '#00ff7f'],
  ['steel blue', '#4682b4'],
  ['tan', '#d2b48c'],
  ['teal', '#008080'],
  ['thistle', '#d8bfd8'],
  ['tomato', '#ff6347'],
  ['turquoise', '#40e0d0'],
  ['violet', '#ee82ee'],
  ['wheat', '#f5deb3'],
  ['white', '#ffffff'],
  ['white smoke', '#f5f5f5'],
  ['yellow', '#ffff00'],
  ['yellow green', '#9acd32'],
];

const spelledAnew: Readonly<Record<string, string>> = { aqua: 'cyan', fuchsia: 'magenta' };

const keywordOf = (words: string): string =>
  words
    .toLowerCase()
    .replace(/[\s-]+/g, '')
    .replace('gray', 'grey');

// Later ones hold: what a word means at a cutting table goes before what it means on a screen.
const meant = new Map(
  [...namedColours, ...CLOTH_WORDS].map(([words, hex]) => [keywordOf(words), { words, hex }]),
);
const labs = new Map([...meant].map(([keyword, { hex }]) => [keyword, labFromRgb8(rgb8FromHex(hex))]));

const knownKeyword = (words: string): string => {
  const keyword = keywordOf(words);
  return spelledAnew[keyword] ?? keyword;
};

/** What a colour word means, of the cloth trade or of that list, however it is spaced, hyphenated or capitalised; null: it is none. */
export const labOfColourWord = (words: string): Lab | null => labs.get(knownKeyword(words)) ?? null;

/** The same as "#rrggbb". */
export const srgbOfColourWord = (words: string): string | null => meant.get(knownKeyword(words))?.hex ?? null;

/** Two letters of five may be wrong, missing or too many: two that changed places count twice, and "ivroy" is still ivory. */
const SLIPS_PER_LETTER = 2 / 5;

/** The colour word that something mistyped looks like, "ivory" for "ivroy"; null where none is near. */
export function likelyColourWord(typed: string): string | null {
  const keyword = keywordOf(typed);
  let best: { words: string; slips: number } | null = null;
  for (const [known, { words }] of meant) {
    const slips = slipsBetween(keyword, known);
    if (slips <= SLIPS_PER_LETTER * keyword.length && slips < (best?.slips ?? Number.POSITIVE_INFINITY)) {
      best = { words, slips };
    }
  }
  return best?.words ?? null;
}

/** Fewest letters to change, add or take away (Levenshtein 1966), row by row of the table of all beginnings. */
function slipsBetween(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const changed = row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(changed, row[j] + 1, next[j - 1] + 1));
    }
    row = next;
  }
  return row[b.length];
}
