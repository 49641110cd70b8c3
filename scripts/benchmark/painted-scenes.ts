import type {
  BandSpec,
  CameraSpec,
  ClothSpec,
  LightSpec,
  PlacedReference,
  ReferenceType,
  Scene,
  SensorSpec,
  ShellMotif,
  StripedGround,
} from '../../test/support/photo-painter/scene.js';
import { seededRandom } from '../../test/support/photo-painter/seeded-random.js';
import { DYES } from '../../test/support/sample-scenes.js';

const bands = (...list: readonly [keyof typeof DYES, number][]): BandSpec[] =>
  list.map(([dye, widthMm]) => ({ colour: DYES[dye], widthMm }));

const TICKING = bands(['indigo', 18], ['ivory', 6], ['ochre', 4], ['ivory', 9], ['indigo', 8], ['ivory', 21]);

const striped = (list: readonly BandSpec[], more: Partial<StripedGround> = {}): ClothSpec => ({
  ground: {
    kind: 'striped',
    bands: list,
    unevenness: 0.01,
    wanderMm: 0.08,
    raggedMm: 0.03,
    bowPercent: 0,
    motif: null,
    check: null,
    ...more,
  },
  weave: { threadMm: 0.45, relief: 0.08, slub: 0.02 },
});

const CAMERA: CameraSpec = {
  widthPx: 3264,
  heightPx: 2448,
  focal35Mm: 26,
  exifFocal: true,
  exifOrientation: 1,
  distanceMm: 430,
  tiltDeg: [0, 0],
  rollDeg: 0,
  k1: 0,
  aimMm: [5, -3],
};

const RULE: PlacedReference = { type: 'metal-mm', atMm: [0, 0], angleDeg: 0, heightMm: 0.3, wear: 0.2 };

const LIGHT: LightSpec = {
  exposure: 0.9,
  gradient: [0.08, -0.05],
  vignette: 0.12,
  cast: [1.02, 1, 0.96],
  shadows: [],
};

const SENSOR: SensorSpec = { blurPx: 0.75, noiseLevels: 2, jpegQuality: 90 };

interface Change {
  readonly cloth?: ClothSpec;
  readonly reference?: Partial<PlacedReference> | null;
  readonly camera?: Partial<CameraSpec>;
  readonly light?: Partial<LightSpec>;
  readonly sensor?: Partial<SensorSpec>;
  readonly expectedOutcome?: Scene['expectedOutcome'];
}

/** Groups that sweep one thing while all else stays; every other scene is laid and turned its own way. */
const SWEPT = new Set([
  'tilt',
  'tilt-no-exif',
  'focal',
  'noise',
  'blur',
  'jpeg',
  'light',
  'lens',
  'exif',
  'size',
]);

/** One ordinary photo, with stated things changed. The seed follows from the name. */
function scene(category: string, label: string | number, change: Change): Scene {
  const name = `${category}-${label}`;
  const seed = [...name].reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) % 1000003, 7);
  const random = seededRandom(seed);
  const laid = SWEPT.has(category)
    ? { rollDeg: 12, tiltDeg: [1.2, -0.8] as const, atMm: [10, -12] as const, angleDeg: -31 }
    : {
        rollDeg: random.between(0, 360),
        tiltDeg: [random.between(-3, 3), random.between(-3, 3)] as const,
        atMm: [random.between(-30, 40), random.between(-35, 30)] as const,
        angleDeg: random.between(0, 360),
      };
  return {
    name,
    category,
    seed,
    cloth: change.cloth ?? striped(TICKING),
    reference:
      change.reference === null
        ? null
        : { ...RULE, atMm: laid.atMm, angleDeg: laid.angleDeg, ...change.reference },
    camera: { ...CAMERA, rollDeg: laid.rollDeg, tiltDeg: laid.tiltDeg, ...change.camera },
    light: { ...LIGHT, ...change.light },
    sensor: { ...SENSOR, ...change.sensor },
    expectedOutcome: change.expectedOutcome ?? 'measure',
  };
}

/** A tilt of so many degrees about an axis at 50 degrees to the photo's x axis. */
const tilted = (deg: number): readonly [number, number] => [deg * 0.64, deg * 0.77];

const tilts = (): Scene[] => [
  ...[0, 2, 4, 6, 8, 10, 12].map((deg) => scene('tilt', deg, { camera: { tiltDeg: tilted(deg) } })),
  ...[0, 4, 8].map((deg) =>
    scene('tilt-no-exif', deg, { camera: { tiltDeg: tilted(deg), exifFocal: false, focal35Mm: 28 } }),
  ),
  ...[24, 52].map((focal35Mm) =>
    scene('focal', focal35Mm, {
      camera: { tiltDeg: tilted(5), focal35Mm, distanceMm: (430 * focal35Mm) / 26 },
    }),
  ),
];

const capture = (): Scene[] => [
  ...[0.5, 4, 7, 10].map((noiseLevels) => scene('noise', noiseLevels, { sensor: { noiseLevels } })),
  ...[0.45, 1.2, 1.8].map((blurPx) => scene('blur', blurPx, { sensor: { blurPx } })),
  scene('jpeg', 60, { sensor: { jpegQuality: 60 } }),
  scene('light', 'gradient', { light: { gradient: [0.32, -0.2] } }),
  scene('light', 'vignette', { light: { vignette: 0.4 } }),
  scene('light', 'under', { light: { exposure: 0.35 } }),
  scene('light', 'warm', { light: { cast: [1.12, 1, 0.72], exposure: 0.8 } }),
  scene('light', 'shadow', {
    light: { shadows: [{ at: [0.2, 0.75], radii: [0.42, 0.3], angleDeg: 30, depth: 0.5 }] },
  }),
  scene('light', 'creases', {
    light: {
      creases: [
        { at: [0.3, 0.4], angleDeg: 20, width: 0.05, depth: 0.18 },
        { at: [0.7, 0.6], angleDeg: -50, width: 0.08, depth: 0.14 },
        { at: [0.5, 0.9], angleDeg: 75, width: 0.03, depth: 0.12 },
      ],
    },
  }),
  scene('hard', 'all-at-once', {
    cloth: striped(TICKING, { unevenness: 0.03, wanderMm: 0.15, bowPercent: 0.8 }),
    camera: { tiltDeg: [7, -8], k1: 0.015 },
    light: {
      gradient: [0.2, 0.15],
      shadows: [{ at: [0.7, 0.3], radii: [0.4, 0.3], angleDeg: -20, depth: 0.4 }],
      creases: [{ at: [0.4, 0.7], angleDeg: -35, width: 0.06, depth: 0.15 }],
    },
    sensor: { noiseLevels: 4, blurPx: 1 },
  }),
  scene('lens', 'barrel', { camera: { k1: -0.025 } }),
  scene('lens', 'pincushion', { camera: { k1: 0.02 } }),
  ...([3, 6, 8] as const).map((exifOrientation) =>
    scene('exif', exifOrientation, {
      camera: {
        exifOrientation,
        ...(exifOrientation === 3 ? {} : { widthPx: 2448, heightPx: 3264 }),
      },
    }),
  ),
  scene('pixels', 12, { camera: { widthPx: 4032, heightPx: 3024 } }),
];

/** Photos from nearer or farther, the stripes and the rule staying what they are. */
const scales = (): Scene[] =>
  [4, 6, 9, 14, 25].map((pxPerMm) => {
    const distanceMm = (26 * Math.hypot(3264, 2448)) / 43.267 / pxPerMm;
    const fine = pxPerMm > 12 ? 0.4 : 1;
    return scene('px-per-mm', pxPerMm, {
      camera: { distanceMm },
      cloth: striped(TICKING.map((band) => ({ ...band, widthMm: band.widthMm * fine }))),
    });
  });

const references = (): Scene[] => {
  const laid = (type: ReferenceType, label: string, reference: Partial<PlacedReference>) =>
    scene('ref', `${type}-${label}`, { reference: { type, ...reference } });
  return [
    laid('metal-mm', 'across', { angleDeg: 0 }),
    laid('metal-mm', 'along', { angleDeg: 90 }),
    laid('metal-mm', 'upside-down', { angleDeg: 158 }),
    scene('ref', 'metal-mm-cut-by-frame', {
      reference: { angleDeg: 20, atMm: [170, 60] },
      camera: { rollDeg: 12 },
    }),
    laid('metal-mm', 'raised', { heightMm: 1 }),
    laid('metal-mm', 'worn', { wear: 0.9 }),
    laid('wood-inch', 'oblique', { angleDeg: 40 }),
    laid('wood-inch', 'along', { angleDeg: -88 }),
    laid('dual', 'oblique', { angleDeg: 24 }),
    laid('dual', 'across', { angleDeg: 181 }),
    laid('tape-mm', 'oblique', { angleDeg: -17 }),
    laid('tape-mm', 'along', { angleDeg: 93 }),
    laid('grid-inch', 'oblique', { angleDeg: 33, heightMm: 0 }),
    laid('grid-inch', 'across', { angleDeg: 2, heightMm: 0 }),
    laid('metre-stick', 'oblique', { angleDeg: 61 }),
    laid('black-mm', 'oblique', { angleDeg: -35 }),
    laid('black-mm', 'across', { angleDeg: 176 }),
    laid('sheet-a4', 'turned', { angleDeg: 19, heightMm: 0.1 }),
    laid('sheet-letter', 'turned', { angleDeg: -64, heightMm: 0.1 }),
    laid('card-id1', 'turned', { angleDeg: 27, heightMm: 0.76 }),
  ];
};

const SHELL: ShellMotif = {
  colour: DYES.madder,
  ribColour: DYES.ivory,
  heightMm: 14,
  alongMm: 38,
  drop: 0.5,
  atMm: 55.5,
};

const cloths = (): Scene[] => [
  scene('cloth', 'fine-3', {
    cloth: striped(bands(['indigo', 1.1], ['ivory', 1.9]), { raggedMm: 0.01, wanderMm: 0.02 }),
  }),
  scene('cloth', 'fine-5', {
    cloth: striped(bands(['indigo', 1.6], ['ivory', 1.2], ['ochre', 1], ['ivory', 1.2]), {
      raggedMm: 0.02,
      wanderMm: 0.03,
    }),
  }),
  scene('cloth', 'twin-widths', {
    cloth: striped(bands(['ivory', 14], ['indigo', 6], ['ivory', 14], ['indigo', 7])),
  }),
  scene('cloth', 'twin-colours', {
    cloth: striped([
      { colour: DYES.ivory, widthMm: 14 },
      { colour: '#2a3a63', widthMm: 7 },
      { colour: DYES.ivory, widthMm: 14 },
      { colour: '#41507a', widthMm: 7 },
    ]),
  }),
  scene('cloth', 'uneven-4', {
    cloth: striped(TICKING, { unevenness: 0.04, wanderMm: 0.25, raggedMm: 0.08 }),
  }),
  scene('cloth', 'even', { cloth: striped(TICKING, { unevenness: 0, wanderMm: 0, raggedMm: 0 }) }),
  scene('cloth', 'bowed-1', { cloth: striped(TICKING, { bowPercent: 1 }) }),
  scene('cloth', 'balanced', {
    cloth: striped(
      bands(['ochre', 10], ['ivory', 4.5], ['indigo', 6], ['ivory', 24], ['indigo', 6], ['ivory', 4.5]),
    ),
  }),
  scene('cloth', 'two-bands', { cloth: striped(bands(['walnut', 15], ['woad', 22])) }),
  scene('cloth', 'wide', { cloth: striped(bands(['madder', 62], ['ivory', 90], ['woad', 48]), {}) }),
  scene('cloth', 'tone-on-tone', {
    cloth: striped([
      { colour: '#cfc3a8', widthMm: 11 },
      { colour: '#dccfb2', widthMm: 17 },
    ]),
  }),
  scene('cloth', 'shell', { cloth: striped(TICKING, { motif: SHELL }) }),
  scene('cloth', 'shell-straight', {
    cloth: striped(TICKING, { motif: { ...SHELL, drop: 0, alongMm: 52 } }),
  }),
  scene('cloth', 'check', {
    cloth: striped(bands(['indigo', 16], ['ivory', 12], ['ochre', 6], ['ivory', 12]), {
      check: bands(['indigo', 16], ['ivory', 12], ['ochre', 6], ['ivory', 12]),
    }),
  }),
];

const refused = (): Scene[] => {
  const plain = (colour: string, mottle = 0): ClothSpec => ({
    ground: { kind: 'plain', colour, mottle },
    weave: { threadMm: 0.5, relief: mottle > 0 ? 0 : 0.08, slub: mottle > 0 ? 0 : 0.02 },
  });
  const spots: ClothSpec = {
    ground: { kind: 'spotted', colour: DYES.indigo, spotColour: DYES.ivory, pitchMm: 26, radiusMm: 4.5 },
    weave: { threadMm: 0.45, relief: 0.08, slub: 0.02 },
  };
  return [
    scene('refuse', 'no-reference', { reference: null, expectedOutcome: 'no-scale' }),
    scene('refuse', 'no-reference-fine', {
      reference: null,
      cloth: striped(bands(['indigo', 1.1], ['ivory', 1.9])),
      expectedOutcome: 'no-scale',
    }),
    scene('refuse', 'plain', { cloth: plain(DYES.ochre), expectedOutcome: 'no-stripes' }),
    scene('refuse', 'spots', { cloth: spots, expectedOutcome: 'no-stripes' }),
    scene('refuse', 'no-cloth', {
      cloth: plain('#8d8a84', 0.12),
      reference: { type: 'wood-inch' },
      expectedOutcome: 'no-stripes',
    }),
    scene('refuse', 'blurred', { sensor: { blurPx: 14 }, expectedOutcome: 'too-blurred' }),
    scene('refuse', 'dark', {
      light: { exposure: 0.008 },
      sensor: { noiseLevels: 5 },
      expectedOutcome: 'too-dark',
    }),
  ];
};

/** Every painted scene, in the order of the table. */
export const paintedScenes = (): Scene[] => [
  ...tilts(),
  ...capture(),
  ...scales(),
  ...references(),
  ...cloths(),
  ...refused(),
];

/** The ordinary photo at another size: for how cost grows with the pixel count. */
export const sizedScene = (megapixels: number): Scene => {
  const heightPx = Math.round(Math.sqrt((megapixels * 1e6 * 3) / 4));
  return scene('size', megapixels, { camera: { widthPx: Math.round((heightPx * 4) / 3), heightPx } });
};

/** A cloth of stated bands under the ordinary photo. */
export const sceneOfBands = (category: string, label: string, list: readonly BandSpec[]): Scene =>
  scene(category, label, { cloth: striped(list, { unevenness: 0, wanderMm: 0.02, raggedMm: 0.015 }) });

/** The ordinary photo of a striped cloth, with stated things about its ground and the sensor changed. */
export const sceneOfGround = (
  category: string,
  label: string,
  list: readonly BandSpec[],
  ground: Partial<StripedGround>,
  sensor: Partial<SensorSpec> = {},
): Scene => scene(category, label, { cloth: striped(list, ground), sensor });
