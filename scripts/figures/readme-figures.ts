import type { Scene } from '../../test/support/photo-painter/scene.js';
import type { PaintedFigures } from './painted-figures.js';

/** Diagonal of a 36 by 24 mm frame, which 35 mm equivalents refer to. */
const FULL_FRAME_MM = Math.hypot(36, 24);

/** What README says of accuracy and time: the scenes from their list, the figures from the last run that was kept. */
export function accuracyText(scenes: readonly Scene[], figures: PaintedFigures): string {
  const { repeat_percent: repeat, width_mm: width, share_points: share, seconds } = figures;
  const megapixels = range(scenes.map(({ camera }) => Math.round((camera.widthPx * camera.heightPx) / 1e6)));
  return [
    `What \`scripts/bench\` gives over its painted scenes (${conditions(scenes)}), where the truth is known exactly:`,
    '',
    `| | median | worst, tilt under ${figures.tilt_under_deg} degrees |`,
    '| --- | --- | --- |',
    `| repeat | ${repeat.median.toFixed(2)} % | ${repeat.worst.toFixed(2)} % |`,
    `| width of a band (mean over the stripes in view) | ${width.median.toFixed(2)} mm | ${width.worst.toFixed(2)} mm |`,
    `| share of a colour | ${share.median.toFixed(1)} points | ${share.worst.toFixed(1)} points |`,
    '',
    `${outcomeWords(scenes, figures)} ${worstWords(scenes, figures)}`,
    `A photo of ${megapixels} megapixels takes about ${seconds.median.toFixed(1)} s on ${seconds.cores} cores, at most ${seconds.longest.toFixed(1)} s.`,
  ].join('\n');
}

function conditions(scenes: readonly Scene[]): string {
  const tilt = Math.max(...scenes.map(({ camera }) => Math.hypot(...camera.tiltDeg)));
  const pxPerMm = scenes.map(
    ({ camera: { widthPx, heightPx, focal35Mm, distanceMm } }) =>
      (focal35Mm * Math.hypot(widthPx, heightPx)) / FULL_FRAME_MM / distanceMm,
  );
  return `tilt to ${tilt.toFixed(0)} degrees, noise, blur, shadows, every kind of ruler, ${range(pxPerMm)} pixels a mm`;
}

const range = (values: readonly number[]): string => {
  const [low, high] = [Math.min(...values), Math.max(...values)].map((value) => value.toFixed(0));
  return low === high ? low : `${low} to ${high}`;
};

function outcomeWords(scenes: readonly Scene[], figures: PaintedFigures): string {
  const measurable = scenes.filter(({ expectedOutcome }) => expectedOutcome === 'measure').length;
  const refusable = scenes.length - measurable;
  // Scenes may have been added since: of those nothing is known.
  if (figures.measurable !== measurable || figures.refusable !== refusable) {
    return `When they were last run, ${some(figures.measured, figures.measurable).toLowerCase()} that can be measured were, ${bandsWords(figures)}, and ${some(figures.refused, figures.refusable).toLowerCase()} that cannot were refused; there are ${measurable} and ${refusable} such photos now.`;
  }
  return `${some(figures.measured, measurable)} such photos were measured, ${bandsWords(figures)}; ${some(figures.refused, refusable).toLowerCase()} that cannot be were refused.`;
}

const some = (found: number, all: number): string => (found === all ? `All ${all}` : `${found} of ${all}`);

const bandsWords = ({ bands_right, measured }: PaintedFigures): string =>
  bands_right === measured
    ? 'with the right number of bands'
    : `${bands_right} of them with the right number of bands`;

/** Where the worst errors come from, as far as the scene's own facts tell. */
function worstWords(
  scenes: readonly Scene[],
  { repeat_percent: repeat, width_mm: width }: PaintedFigures,
): string {
  const words: string[] = [];
  const far = scenes.find(({ name }) => name === repeat.worst_scene);
  if (far?.reference && far.reference.heightMm > 0) {
    const { heightMm } = far.reference;
    const { distanceMm } = far.camera;
    words.push(
      `The worst repeat is in a photo taken from ${distanceMm.toFixed(0)} mm away, where the ruler's own height of ${heightMm} mm alone makes ${((100 * heightMm) / distanceMm).toFixed(1)} %.`,
    );
  }
  const wide = scenes.find(({ name }) => name === width.worst_scene)?.cloth.ground;
  if (wide?.kind === 'striped') {
    const repeatMm = wide.bands.reduce((sum, band) => sum + band.widthMm, 0);
    words.push(
      `The worst width is of cloth that repeats every ${repeatMm.toFixed(0)} mm, ${width.worst_repeats_seen.toFixed(1)} times in view.`,
    );
  }
  return words.join(' ');
}
