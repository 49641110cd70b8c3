import type {
  BandSpec,
  ClothSpec,
  PlacedReference,
  Scene,
  ShellMotif,
  StripedGround,
  WeaveSpec,
} from '../../../test/support/photo-painter/scene.js';
import { seededRandom } from '../../../test/support/photo-painter/seeded-random.js';
import { balancedBands, colourStep, palette, repeatOf, tones, unbalancedBands } from './bands.js';
import { drawCamera, drawLight, drawSensor, EASY, HARD, type Hardness, USUAL } from './capture.js';
import { type Draw, drawFrom, tenth } from './draw.js';
import { layRuler, laySheet, type RulerWish, secondRuler } from './laid-reference.js';
import { cornerObject, drawBorder, drawFolds, overRuler } from './objects.js';

type Recipe = (draw: Draw) => Omit<Scene, 'name' | 'category' | 'seed'>;

/** Least length along the photo's shorter side, and most: what a person takes at a table. */
const NEAREST_MM = 220;
const FARTHEST_MM = 560;

const drawWeave = (draw: Draw): WeaveSpec => ({
  threadMm: draw.between(0.25, 0.8),
  relief: draw.between(0.02, 0.14),
  slub: draw.between(0.005, 0.05),
});

function striped(draw: Draw, bands: readonly BandSpec[], more: Partial<StripedGround> = {}): ClothSpec {
  const narrowest = Math.min(...bands.map((band) => band.widthMm));
  return {
    ground: {
      kind: 'striped',
      bands,
      unevenness: draw.between(0, 0.006),
      wanderMm: Math.min(draw.between(0, 0.12), narrowest * 0.05),
      raggedMm: Math.min(draw.between(0, 0.06), narrowest * 0.04),
      bowPercent: 0,
      motif: null,
      check: null,
      ...more,
    },
    weave: drawWeave(draw),
  };
}

/** So many repeats across the photo's shorter side, within what a person would take. */
const viewOf = (draw: Draw, repeatMm: number, fewest: number, most: number): number =>
  Math.min(FARTHEST_MM, Math.max(NEAREST_MM, Math.min(repeatMm * draw.between(fewest, most), 420)));

type Wish = RulerWish | 'sheet' | 'none';

function photoOf(
  draw: Draw,
  cloth: ClothSpec,
  shortMm: number,
  hardness: Hardness,
  wish: Wish = {},
): ReturnType<Recipe> {
  const camera = drawCamera(draw, shortMm, hardness);
  const { clutter, trouble } = hardness;
  const covered = typeof wish === 'object' && draw.chance(clutter);
  const more = covered ? { leastMm: Math.max(wish.leastMm ?? 0, Math.min(190, shortMm * 0.8)) } : {};
  const reference: PlacedReference | null =
    wish === 'none'
      ? null
      : wish === 'sheet'
        ? laySheet(draw, camera, shortMm)
        : layRuler(draw, camera, shortMm, { trouble, ...wish, ...more });
  const second =
    typeof wish === 'object' && reference && draw.chance(clutter)
      ? secondRuler(draw, camera, shortMm, reference)
      : null;
  const objects = [
    ...(draw.chance(clutter) ? [cornerObject(draw, camera)] : []),
    ...(covered && reference ? [overRuler(draw, reference, camera)] : []),
  ];
  return {
    cloth: {
      ...cloth,
      ...(draw.chance(clutter) ? { borders: [drawBorder(draw, camera)] } : {}),
      ...(draw.chance(clutter) ? { folds: drawFolds(draw, camera) } : {}),
    },
    reference,
    ...(second ? { moreReferences: [second] } : {}),
    ...(objects.length > 0 ? { objects } : {}),
    camera,
    light: drawLight(draw, hardness),
    sensor: drawSensor(draw, hardness),
    expectedOutcome: 'measure',
  };
}

function evenBands(draw: Draw): BandSpec[] {
  const n = draw.pick([2, 4, 4, 6]);
  return balancedBands(draw, palette(draw, n === 2 ? 2 : draw.whole(2, 3), 14), n, draw.between(25, 95), 3);
}

function onewayBands(draw: Draw, most = 10): BandSpec[] {
  const n = draw.whole(3, most);
  const colours = palette(draw, n === 3 ? 3 : draw.whole(3, Math.min(5, n)), 14);
  return unbalancedBands(draw, colours, n, draw.between(10 * n, 18 * n), 3);
}

const anyBands = (draw: Draw): BandSpec[] => (draw.chance(0.5) ? evenBands(draw) : onewayBands(draw, 8));

const plainTicking: Recipe = (draw) => {
  const bands = evenBands(draw);
  return photoOf(draw, striped(draw, bands), viewOf(draw, repeatOf(bands), 2.6, 7), EASY);
};

const oneWay: Recipe = (draw) => {
  const bands = onewayBands(draw);
  return photoOf(draw, striped(draw, bands), viewOf(draw, repeatOf(bands), 2.2, 4), USUAL);
};

const uneven: Recipe = (draw) => {
  const bands = anyBands(draw);
  const cloth = striped(draw, bands, {
    unevenness: draw.between(0.015, 0.045),
    wanderMm: draw.between(0.1, 0.3),
    raggedMm: draw.between(0.03, 0.1),
    bowPercent: draw.chance(0.4) ? draw.between(-1, 1) : 0,
  });
  return photoOf(draw, cloth, viewOf(draw, repeatOf(bands), 2.4, 5), USUAL);
};

const printed: Recipe = (draw) => {
  for (;;) {
    const bands = anyBands(draw);
    const widest = bands.reduce((a, b) => (b.widthMm > a.widthMm ? b : a));
    if (widest.widthMm < 14) continue;
    const others = palette(draw, 2, 25);
    const heightMm = draw.between(0.55, 1.25) * Math.min(widest.widthMm, 26);
    const before = repeatOf(bands.slice(0, bands.indexOf(widest)));
    const motif: ShellMotif = {
      colour: others[0],
      ribColour: others[1],
      heightMm,
      alongMm: tenth(heightMm * draw.between(1.5, 3.5)),
      drop: draw.pick([0, 0.5]),
      atMm: before + widest.widthMm / 2,
    };
    return photoOf(draw, striped(draw, bands, { motif }), viewOf(draw, repeatOf(bands), 2.4, 4.5), USUAL);
  }
};

const hardCapture: Recipe = (draw) => {
  const bands = anyBands(draw);
  const cloth = striped(draw, bands, { bowPercent: draw.chance(0.5) ? draw.between(-1.5, 1.5) : 0 });
  return photoOf(draw, cloth, viewOf(draw, repeatOf(bands), 2.4, 5), HARD);
};

const toneOnTone: Recipe = (draw) => {
  const count = draw.pick([2, 2, 3]);
  const colours = tones(draw, count, 4, 9);
  const n = count === 2 ? draw.pick([2, 2, 4]) : 4;
  const repeat = draw.between(18, 70);
  const bands =
    n === 2 || draw.chance(0.6)
      ? balancedBands(draw, colours, n, repeat, 3)
      : unbalancedBands(draw, colours, n, repeat, 3);
  return photoOf(draw, striped(draw, bands), viewOf(draw, repeatOf(bands), 2.6, 6), USUAL);
};

/** Ticking of a few millimetres. */
const fine: Recipe = (draw) => {
  const repeat = draw.between(3, 6);
  const n = repeat > 4.5 ? draw.pick([2, 4]) : 2;
  const bands = balancedBands(draw, palette(draw, 2, 25), n, repeat, 0.12 * repeat);
  return photoOf(draw, striped(draw, bands), draw.between(150, 210), USUAL);
};

/** Ticking that repeats nearly as the marks of the ruler do that lies across it. */
const likeTheRuler: Recipe = (draw) => {
  const bands = balancedBands(draw, palette(draw, 2, 25), 2, draw.between(3, 3.4), 0.9);
  return photoOf(draw, striped(draw, bands), draw.between(150, 210), USUAL, {
    lay: 'across',
    types: ['tape-inch', 'wood-inch', 'metal-mm'],
  });
};

/** From 1.6 repeats in view on. */
const awning: Recipe = (draw) => {
  const bands = draw.chance(0.5)
    ? balancedBands(draw, palette(draw, 2, 14), 2, draw.between(150, 260), 30)
    : unbalancedBands(draw, palette(draw, 3, 14), draw.whole(3, 5), draw.between(150, 280), 15);
  const shortMm = Math.min(FARTHEST_MM, repeatOf(bands) * draw.between(1.6, 2.2));
  return photoOf(draw, striped(draw, bands), shortMm, USUAL);
};

const manyBands: Recipe = (draw) => {
  const colours = palette(draw, draw.whole(4, 6), 14);
  const bands = unbalancedBands(draw, colours, draw.whole(11, 16), draw.between(90, 190), 2);
  return photoOf(draw, striped(draw, bands), viewOf(draw, repeatOf(bands), 2.1, 3), USUAL);
};

const thinLine: Recipe = (draw) => {
  const [wide, other, line] = palette(draw, 3, 25);
  const bands: BandSpec[] = [
    { colour: wide, widthMm: tenth(draw.between(15, 40)) },
    { colour: line, widthMm: 0.8 },
    ...(draw.chance(0.5) ? [] : [{ colour: other, widthMm: tenth(draw.between(10, 30)) }]),
  ];
  return photoOf(draw, striped(draw, bands), draw.between(200, 260), USUAL);
};

const shaded: Recipe = (draw) => {
  for (;;) {
    const plain = onewayBands(draw, 5);
    const wide = plain.reduce((most, band, i) => (band.widthMm > plain[most].widthMm ? i : most), 0);
    if (plain[wide].widthMm < 18) continue;
    const [shadeTo] = palette(draw, 1, 0);
    const next = plain[(wide + 1) % plain.length].colour;
    const step = colourStep(shadeTo, plain[wide].colour);
    if (step < 15 || step > 40 || colourStep(shadeTo, next) < 12) continue;
    const bands = plain.map((band, i) => (i === wide ? { ...band, shadeTo } : band));
    return photoOf(draw, striped(draw, bands), viewOf(draw, repeatOf(bands), 2.4, 4), USUAL);
  }
};

/** So far away that millimetre ticks are little more than two pixels apart. */
const farAway: Recipe = (draw) => {
  const bands = anyBands(draw).map((band) => ({ ...band, widthMm: tenth(band.widthMm * 2.2) }));
  const photo = photoOf(draw, striped(draw, bands), draw.between(1000, 1300), USUAL, {
    types: ['metre-stick', 'tape-mm'],
    leastMm: 400,
  });
  return { ...photo, sensor: { ...photo.sensor, blurPx: draw.between(0.4, 0.65) } };
};

const extremes: Recipe = (draw) =>
  draw.pick([fine, likeTheRuler, awning, awning, manyBands, thinLine, shaded, farAway])(draw);

const check: Recipe = (draw) => {
  const own = anyBands(draw);
  const bands = own.length > 8 ? own.slice(0, 8) : own;
  const other = draw.chance(0.6) ? bands : anyBands(draw);
  return photoOf(
    draw,
    striped(draw, bands, { check: other }),
    viewOf(draw, Math.max(repeatOf(bands), repeatOf(other)), 2.4, 5),
    USUAL,
  );
};

const sheet: Recipe = (draw) => {
  const bands = anyBands(draw);
  return photoOf(draw, striped(draw, bands), draw.between(330, 460), USUAL, 'sheet');
};

const toBeRefused: Recipe = (draw) => {
  const kind = draw.pick([
    'no-reference',
    'no-reference',
    'plain',
    'spots',
    'no-cloth',
    'blurred',
    'dark',
  ] as const);
  const bands = anyBands(draw);
  const shortMm = viewOf(draw, repeatOf(bands), 2.4, 5);
  const photo = (cloth: ClothSpec) => photoOf(draw, cloth, shortMm, USUAL);
  const [colour, spotColour] = palette(draw, 2, 20);
  switch (kind) {
    case 'no-reference':
      return { ...photoOf(draw, striped(draw, bands), shortMm, USUAL, 'none'), expectedOutcome: 'no-scale' };
    case 'plain':
      return {
        ...photo({ ground: { kind: 'plain', colour, mottle: 0 }, weave: drawWeave(draw) }),
        expectedOutcome: 'no-stripes',
      };
    case 'no-cloth':
      return {
        ...photo({
          ground: { kind: 'plain', colour, mottle: draw.between(0.05, 0.15) },
          weave: { threadMm: 0.5, relief: 0, slub: 0 },
        }),
        expectedOutcome: 'no-stripes',
      };
    case 'spots': {
      const pitchMm = draw.between(14, 40);
      const radiusMm = pitchMm * draw.between(0.12, 0.22);
      return {
        ...photo({
          ground: { kind: 'spotted', colour, spotColour, pitchMm, radiusMm },
          weave: drawWeave(draw),
        }),
        expectedOutcome: 'no-stripes',
      };
    }
    case 'blurred': {
      const base = photo(striped(draw, bands));
      return {
        ...base,
        sensor: { ...base.sensor, blurPx: draw.between(12, 18) },
        expectedOutcome: 'too-blurred',
      };
    }
    case 'dark': {
      const base = photo(striped(draw, bands));
      return {
        ...base,
        light: { ...base.light, exposure: draw.between(0.004, 0.01) },
        sensor: { ...base.sensor, noiseLevels: draw.between(4, 7) },
        expectedOutcome: 'too-dark',
      };
    }
  }
};

const GROUPS: readonly (readonly [string, Recipe])[] = [
  ['simple', plainTicking],
  ['one-way', oneWay],
  ['uneven', uneven],
  ['printed', printed],
  ['hard', hardCapture],
  ['tones', toneOnTone],
  ['extreme', extremes],
  ['check', check],
  ['sheet', sheet],
  ['refuse', toBeRefused],
];

export const RANDOM_GROUPS: readonly string[] = GROUPS.map(([name]) => name);

/** So many scenes, the groups in turn. The same seed gives the same scenes; a longer list begins as a shorter one does. */
export function randomScenes(count: number, seed: number): Scene[] {
  return Array.from({ length: count }, (_, i) => {
    const [category, recipe] = GROUPS[i % GROUPS.length];
    const own = (Math.imul(seed, 0x9e3779b1) ^ Math.imul(i + 1, 0x85ebca6b)) >>> 0;
    const name = `${category}-${seed}-${String(Math.floor(i / GROUPS.length) + 1).padStart(2, '0')}`;
    return { name, category, seed: own, ...recipe(drawFrom(seededRandom(own))) };
  });
}
