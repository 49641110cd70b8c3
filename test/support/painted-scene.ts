import type { BandSpec, Scene } from './photo-painter/scene.js';

/** A small, clean scene looked at straight from above: even light, no noise, no weave, 5 px a mm. */
export const plainScene = (change: Partial<Scene> = {}): Scene => ({
  name: 'plain',
  category: 'test',
  seed: 11,
  expectedOutcome: 'measure',
  cloth: stripes([
    { colour: '#2a3a63', widthMm: 7 },
    { colour: '#ebe2cb', widthMm: 5 },
  ]),
  reference: null,
  camera: {
    widthPx: 400,
    heightPx: 300,
    focal35Mm: 43.267,
    exifFocal: true,
    exifOrientation: 1,
    // The focal length is then one diagonal: 500 px; 100 mm away that is 5 px a mm.
    distanceMm: 100,
    tiltDeg: [0, 0],
    rollDeg: 0,
    k1: 0,
    aimMm: [0, 0],
  },
  light: { exposure: 1, gradient: [0, 0], vignette: 0, cast: [1, 1, 1], shadows: [] },
  sensor: { blurPx: 0, noiseLevels: 0, jpegQuality: 95 },
  ...change,
});

/** Cloth of exact bands without any texture. */
export const stripes = (bands: readonly BandSpec[], unevenness = 0): Scene['cloth'] => ({
  ground: {
    kind: 'striped',
    bands,
    unevenness,
    wanderMm: 0,
    raggedMm: 0,
    bowPercent: 0,
    motif: null,
    check: null,
  },
  weave: { threadMm: 0.4, relief: 0, slub: 0 },
});
