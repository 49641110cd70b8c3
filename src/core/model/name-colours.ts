import type { GivenName } from '../base/given-names.js';
import { ciede2000 } from '../colour/ciede2000.js';
import { labOfColourWord } from '../colour/colour-names.js';
import type { BandModel, ColourFacts, Warning } from './band-model.js';

/** By so much, CIEDE2000 summed over both, one way round must be nearer than the other: from light to light colours move by less. */
const CLEARLY = 5;
/** CIEDE2000 from a word to a colour that it cannot mean: red is 53 from green and 53 from blue, but the same word differs by 30 from maker to maker. */
const FAR = 40;

/**
 * The model with the names that a person gave to its colours. A name with an id goes to that colour; a known colour word to the
 * colour it means, all of them taken together; any other to the colours that are left, the one that covers most first. Colours
 * without a given name keep theirs. What cannot be placed, or might as well be placed otherwise, is told in a warning.
 */
export function nameColours(model: BandModel, names: readonly GivenName[]): BandModel {
  if (names.length === 0) return model;
  const { placed, unsure } = placeNames(model.colours, names);
  const colours = model.colours.map((colour) => {
    const name = placed.get(colour.id);
    return name === undefined ? colour : { ...colour, name, name_given: true };
  });
  return { ...model, colours, warnings: [...model.warnings, ...unsure] };
}

function placeNames(colours: readonly ColourFacts[], names: readonly GivenName[]) {
  const placed = new Map<string, string>();
  const unsure: Warning[] = [];
  const left = (): ColourFacts[] => colours.filter(({ id }) => !placed.has(id));
  const list = colours.map(({ id, name }) => `${id} (${name})`).join(', ');
  const warn = (message: string): void => {
    unsure.push({ code: 'names-unsure', message, settings: ['names'] });
  };

  for (const { name, colour } of names) {
    if (colour === null) continue;
    if (colours.some(({ id }) => id === colour)) placed.set(colour, name);
    else warn(`There is no colour ${colour} to be called ${name}; the colours are ${list}.`);
  }
  const free = names.filter(({ colour }) => colour === null).map(({ name }) => name);
  const meant = placeByMeaning(
    free.flatMap((name) => {
      const lab = labOfColourWord(name);
      return lab === null ? [] : [{ name, lab }];
    }),
    left(),
  );
  for (const { word, colour } of meant.pairs) placed.set(colour.id, word.name);
  for (const message of meant.doubts) warn(message);

  const others = free.filter((name) => labOfColourWord(name) === null);
  const rest = left();
  for (const [k, name] of others.slice(0, rest.length).entries()) placed.set(rest[k].id, name);
  const over = [...meant.over, ...others.slice(rest.length)];
  if (over.length > 0) {
    warn(`${over.join(' and ')} ${over.length === 1 ? 'is' : 'are'} left over: the cloth shows ${list}.`);
  }
  return { placed, unsure };
}

interface Word {
  readonly name: string;
  readonly lab: ColourFacts['lab'];
}
interface Pair {
  readonly word: Word;
  readonly colour: ColourFacts;
}

const apart = (word: Word, colour: ColourFacts): number => ciede2000(word.lab, colour.lab);

/** Each word to a colour of its own: the nearest pair first, then exchanged wherever that brings them nearer together. */
function placeByMeaning(words: readonly Word[], colours: readonly ColourFacts[]) {
  const near = words
    .flatMap((word) => colours.map((colour) => ({ word, colour, by: apart(word, colour) })))
    .sort((p, q) => p.by - q.by);
  const pairs: Pair[] = [];
  for (const { word, colour } of near) {
    if (!pairs.some((pair) => pair.word === word || pair.colour === colour)) pairs.push({ word, colour });
  }
  const gainOf = (p: Pair, q: Pair): number =>
    apart(p.word, p.colour) + apart(q.word, q.colour) - apart(p.word, q.colour) - apart(q.word, p.colour);
  const couples = pairs.flatMap((_, i) => pairs.slice(i + 1).map((_, j) => [i, i + 1 + j] as const));
  // Each exchange shortens the sum, so that there is an end.
  for (let again = true; again; ) {
    again = false;
    for (const [i, j] of couples) {
      const [p, q] = [pairs[i], pairs[j]];
      if (gainOf(p, q) <= 1e-9) continue;
      pairs[i] = { word: p.word, colour: q.colour };
      pairs[j] = { word: q.word, colour: p.colour };
      again = true;
    }
  }
  return {
    pairs,
    over: words.filter((word) => !pairs.some((pair) => pair.word === word)).map(({ name }) => name),
    doubts: [
      ...couples.flatMap(([i, j]) =>
        gainOf(pairs[i], pairs[j]) > -CLEARLY ? [eitherWay(pairs[i], pairs[j])] : [],
      ),
      ...pairs.filter((pair) => apart(pair.word, pair.colour) > FAR).map(tooFar),
    ],
  };
}

const eitherWay = (p: Pair, q: Pair): string =>
  `${p.word.name} and ${q.word.name} might be the other way round: colour ${p.colour.id} is now called ${p.word.name} and ${q.colour.id} ${q.word.name}. To say which, give the names as ${p.colour.id}=${p.word.name},${q.colour.id}=${q.word.name}.`;

const tooFar = ({ word, colour }: Pair): string =>
  `Colour ${colour.id} is now called ${word.name}, but it looks ${colour.name}. Check that these names are of this cloth.`;
