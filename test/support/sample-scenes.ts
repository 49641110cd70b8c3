import type { BandSpec, ClothSpec, Scene, ShellMotif } from './photo-painter/scene.js';

/** The workroom's dyes under a neutral light. */
export const DYES = {
  indigo: '#2a3a63',
  ivory: '#ebe2cb',
  ochre: '#bd8738',
  madder: '#8c3a2c',
  walnut: '#5c4433',
  woad: '#7f9bb0',
} as const;

/** Turned one way, no mirror: the order of the widths tells which side is which. */
const UNBALANCED: readonly BandSpec[] = [
  { colour: DYES.indigo, widthMm: 18 },
  { colour: DYES.ivory, widthMm: 6 },
  { colour: DYES.ochre, widthMm: 4 },
  { colour: DYES.ivory, widthMm: 9 },
  { colour: DYES.indigo, widthMm: 8 },
  { colour: DYES.ivory, widthMm: 21 },
];

const BALANCED: readonly BandSpec[] = [
  { colour: DYES.ochre, widthMm: 10 },
  { colour: DYES.ivory, widthMm: 4.5 },
  { colour: DYES.indigo, widthMm: 6 },
  { colour: DYES.ivory, widthMm: 24 },
  { colour: DYES.indigo, widthMm: 6 },
  { colour: DYES.ivory, widthMm: 4.5 },
];

const SHELL: ShellMotif = {
  colour: DYES.madder,
  ribColour: DYES.ivory,
  heightMm: 14,
  alongMm: 38,
  drop: 0.5,
  atMm: 55.5,
};

const ticking = (bands: readonly BandSpec[], unevenness: number, motif: ShellMotif | null): ClothSpec => ({
  ground: {
    kind: 'striped',
    bands,
    unevenness,
    wanderMm: 0.1,
    raggedMm: 0.04,
    bowPercent: 0,
    motif,
    check: null,
  },
  weave: { threadMm: 0.45, relief: 0.08, slub: 0.02 },
});

/** What a measurement of a sample may be off by. */
export interface SampleTolerances {
  readonly repeat_percent: number;
  readonly band_width_mm: number;
  readonly share_points: number;
  readonly tilt_deg: number;
}

const TOLERANCES: SampleTolerances = {
  // The rule lies up to 0.4 mm above the cloth at 420 mm: 0.1 % of the goal's 0.3 %.
  repeat_percent: 0.3,
  band_width_mm: 0.5,
  share_points: 2,
  tilt_deg: 1.5,
};

export interface Sample {
  readonly scene: Scene;
  readonly tolerances: SampleTolerances;
}

const sensor = { blurPx: 0.75, noiseLevels: 1.6, jpegQuality: 86 };
const picture = {
  widthPx: 2272,
  heightPx: 1704,
  focal35Mm: 35,
  exifFocal: true,
  exifOrientation: 1 as const,
};

export const SAMPLES: readonly Sample[] = [
  {
    tolerances: TOLERANCES,
    scene: {
      name: 'ticking-metal-rule',
      category: 'sample',
      seed: 4101,
      expectedOutcome: 'measure',
      cloth: ticking(UNBALANCED, 0.02, null),
      reference: { type: 'metal-mm', atMm: [12, -18], angleDeg: -24, heightMm: 0.3, wear: 0.2 },
      camera: { ...picture, distanceMm: 420, tiltDeg: [3.2, 2.4], rollDeg: -9, k1: 0, aimMm: [7, 3] },
      light: { exposure: 0.92, gradient: [0.1, -0.06], vignette: 0.14, cast: [1.03, 1, 0.95], shadows: [] },
      sensor,
    },
  },
  {
    tolerances: TOLERANCES,
    scene: {
      name: 'shell-wooden-rule',
      category: 'sample',
      seed: 4102,
      expectedOutcome: 'measure',
      cloth: ticking(UNBALANCED, 0.015, SHELL),
      reference: { type: 'wood-inch', atMm: [-20, 22], angleDeg: 171, heightMm: 0.4, wear: 0.3 },
      camera: { ...picture, distanceMm: 425, tiltDeg: [-2, 1.5], rollDeg: 6, k1: 0, aimMm: [-11, 15] },
      light: {
        exposure: 0.88,
        gradient: [-0.12, 0.05],
        vignette: 0.16,
        cast: [1.05, 1, 0.92],
        shadows: [{ at: [1, 1.05], radii: [0.7, 0.45], angleDeg: -30, depth: 0.22 }],
      },
      sensor,
    },
  },
  {
    tolerances: TOLERANCES,
    scene: {
      name: 'balanced-dual-rule',
      category: 'sample',
      seed: 4103,
      expectedOutcome: 'measure',
      cloth: ticking(BALANCED, 0.015, null),
      reference: { type: 'dual', atMm: [4, 30], angleDeg: 38, heightMm: 0.3, wear: 0.15 },
      camera: { ...picture, distanceMm: 430, tiltDeg: [1.2, -2.2], rollDeg: 58, k1: 0, aimMm: [2, 6] },
      light: { exposure: 0.95, gradient: [0.05, 0.1], vignette: 0.12, cast: [0.98, 1, 1.03], shadows: [] },
      sensor,
    },
  },
];
