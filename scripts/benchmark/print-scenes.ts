import type { BandSpec, PrintedMotif, PrintSpec, Scene } from '../../test/support/photo-painter/scene.js';
import { DYES } from '../../test/support/sample-scenes.js';
import { sceneOfGround } from './painted-scenes.js';
import { settScenes } from './sett-scenes.js';

const bands = (...list: readonly [keyof typeof DYES, number][]): BandSpec[] =>
  list.map(([dye, widthMm]) => ({ colour: DYES[dye], widthMm }));

/** Wide bands at u = 0..16 indigo, 16..28 ivory, 28..36 ochre, 36..60 ivory. */
const GROUND = bands(['indigo', 16], ['ivory', 12], ['ochre', 8], ['ivory', 24]);
/** Mirror lines at u = 8 and u = 34. */
const BALANCED = bands(['indigo', 16], ['ivory', 10], ['ochre', 16], ['ivory', 10]);

const one = (kind: PrintedMotif['kind'], sizeMm: number, u: number, more: Partial<PrintedMotif> = {}) => ({
  kind,
  colour: DYES.madder,
  sizeMm,
  atMm: [u, 4] as const,
  turnDeg: 0,
  mirrored: false,
  ...more,
});

const printed = (
  label: string,
  print: Partial<PrintSpec> & Pick<PrintSpec, 'motifs'>,
  list: readonly BandSpec[] = GROUND,
  noiseLevels = 2,
): Scene =>
  sceneOfGround(
    'print',
    label,
    list,
    { print: { acrossRepeats: 1, alongMm: 26, drop: 0.5, directional: true, ...print } },
    { noiseLevels },
  );

/** Arrows over the edge at u = 36 between ochre and ivory; their size sets the part of the ochre band they cover. */
const coverSweep = (): Scene[] =>
  [5, 15, 25, 35, 45].flatMap((percent) => {
    // A disc inside the band of 24 mm; a bar across the edge, covering so much of the edge's length.
    const disc = 2 * Math.sqrt(((percent / 100) * 24 * 30) / Math.PI);
    const bar = (percent / 100) * 30;
    return [
      printed(`cover-${percent}`, { alongMm: 30, motifs: [one('disc', disc, 48)], directional: false }),
      printed(`edge-${percent}`, {
        alongMm: 30,
        motifs: [one('bar', bar, 36, { turnDeg: 0 })],
        directional: false,
      }),
      printed(`both-${percent}`, {
        alongMm: 30,
        motifs: [one('arrow', bar, 16), one('disc', 0.8 * bar, 28, { colour: DYES.walnut, atMm: [28, 19] })],
      }),
    ];
  });

const dropSweep = (): Scene[] =>
  [0, 1 / 4, 1 / 3, 1 / 2, 0.7, 3 / 4].map((drop) =>
    printed(`drop-${drop.toFixed(2)}`, { drop, motifs: [one('arrow', 11, 46)] }),
  );

const noiseSweep = (): Scene[] =>
  [4, 7, 10].map((noise) =>
    printed(`noise-${noise}`, { drop: 1 / 3, motifs: [one('arrow', 12, 40)] }, GROUND, noise),
  );

/** Prints whose cell is wider than one repeat of the stripes. */
const wideCells = (): Scene[] => [
  printed('across-2', {
    acrossRepeats: 2,
    drop: 0,
    motifs: [one('arrow', 12, 48)],
  }),
  printed('across-2-colours', {
    acrossRepeats: 2,
    drop: 0,
    motifs: [one('arrow', 12, 48), one('arrow', 12, 108, { colour: DYES.woad })],
  }),
  printed(
    'across-2-drop',
    { acrossRepeats: 2, drop: 0.5, motifs: [one('arrow', 11, 12)] },
    bands(['indigo', 14], ['ivory', 20]),
  ),
];

/** One print for each of the seven frieze groups, its axis along the stripes, on balanced bands. */
const friezeScenes = (): Scene[] => {
  const at = (kind: PrintedMotif['kind'], v: number, more: Partial<PrintedMotif> = {}): PrintedMotif => ({
    ...one(kind, 11, 34, more),
    atMm: [34, v],
  });
  const group = (name: string, directional: boolean, motifs: PrintedMotif[]): Scene =>
    printed(`frieze-${name}`, { alongMm: 36, drop: 0, motifs, directional }, BALANCED);
  return [
    group('p1', true, [at('flag', 0)]),
    group('p2', false, [at('zed', 0)]),
    group('p2mm', false, [at('bar', 0)]),
    // Mirror line along the strip: an arrow along it.
    group('p11m', true, [at('arrow', 0)]),
    // Mirror lines across the strip: an arrow across it.
    group('p1m1', false, [at('arrow', 0, { turnDeg: 90 })]),
    // A glide along the strip: flags by turns to either side.
    group('p11g', true, [at('flag', 0), at('flag', 18, { mirrored: true })]),
    // Half-turns and mirrors across: arrows across, by turns to either side.
    group('p2mg', false, [at('arrow', 0, { turnDeg: 90 }), at('arrow', 18, { turnDeg: -90 })]),
  ];
};

/** Painted prints: cover, drop and noise swept, wide cells, frieze groups. */
export const printScenes = (): Scene[] => [
  ...coverSweep(),
  ...dropSweep(),
  ...noiseSweep(),
  ...wideCells(),
  ...friezeScenes(),
];

/** Recorded thread counts woven both ways, as tartans are; null when the list is not there. */
export const checkSettScenes = (): Scene[] | null =>
  settScenes()?.flatMap((scene) => {
    const { ground } = scene.cloth;
    if (ground.kind !== 'striped') return [];
    const cloth = { ...scene.cloth, ground: { ...ground, check: ground.bands } };
    return [{ ...scene, name: scene.name.replace('sett-', 'tartan-'), category: 'tartan', cloth }];
  }) ?? null;
