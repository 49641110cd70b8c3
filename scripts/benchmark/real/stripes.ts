import { NO_HINTS, type PhotoRegion, type StripeHints } from '../../../src/core/base/request.js';
import { measureCloth } from '../../../src/core/pipeline/measure-cloth.js';
import type { Photo } from '../../../src/core/raster/photo.js';
import { type Point, type RealEntry, type RealRow, realPhoto } from './real-photo.js';

/** So many px stand for a mm of cloth: garments and cloths are then of about their real size. */
const DENSITY: Readonly<Record<string, number>> = { garment: 0.8, fabric: 4, towel: 5 };

/**
 * Striped cloth whose repeats were counted by hand, as if scanned: a repeat in px against the hand's, the whole photo
 * looked at; then once more with what a person would say. A photo is not flat: a repeat inside the range that was seen over the cloth is right.
 */
export async function stripesRow(entry: RealEntry): Promise<RealRow> {
  const { truth } = entry;
  const pxPerMm = DENSITY[entry.file.split('_')[0]] ?? 1;
  const known = [
    truth.repeat_px,
    truth.repeat_px_x,
    truth.repeat_px_y,
    truth.repeat_px_across,
    truth.repeat_px_down,
    truth.row_pitch_px_down,
    truth.strip_pitch_px_across,
  ].filter((px) => px !== undefined);
  const bands = truth.edges_px?.bands_per_repeat;
  const hand = `repeat ${known.join(' / ')} px${bands ? `, ${bands} bands` : ''}`;
  const photo = await realPhoto(entry);
  const range = truth.local_repeat_px_range ?? truth.local_repeat_px_down_range;
  const near = (px: number): boolean =>
    known.some(
      (repeat) => Math.abs(px / repeat - 1) < Math.max(0.03, 2 * ((truth.uncertainty_px ?? 0) / repeat)),
    ) ||
    (range !== undefined && px >= range[0] && px <= range[1]);
  const tries = [NO_HINTS, hintsFor(entry, photo)].flatMap((hints) => (hints ? [hints] : []));
  const results: string[] = [];
  let right = false;
  for (const hints of tries) {
    const measured = measureCloth(photo, { kind: 'density', pxPerMm }, { hints });
    if (!measured.ok) {
      results.push(`refused: ${measured.refusal.found}`);
      continue;
    }
    const { model } = measured.value;
    const found = [model.repeat.across_mm, model.check?.repeat.across_mm].flatMap((mm) =>
      mm ? [mm * pxPerMm] : [],
    );
    const told = `${found.map((px) => px.toFixed(1)).join(' / ') || 'no repeat'} px, ${model.bands.length} bands`;
    results.push([told, ...model.warnings.map(({ code }) => code)].join(', '));
    right = found.some(near) && (bands === undefined || model.bands.length === bands);
    if (right) break;
  }
  return { name: entry.file, what: hand, result: results.join('; with help: '), right };
}

/** x, y, width and height of a part where the stripes run straight, drawn by eye where the list names no strip. */
const DRAWN: Readonly<Record<string, readonly [number, number, number, number]>> = {
  'garment_polo_multi.jpg': [90, 150, 220, 210],
  'garment_red_yellow_green.jpg': [100, 200, 200, 180],
  'garment_shirt_vertical_blue.jpg': [200, 220, 110, 220],
  'garment_vertical_bw.jpg': [190, 180, 165, 160],
  'garment_plaid_blue_green.jpg': [150, 200, 115, 150],
  'garment_gingham_shorts.jpg': [180, 90, 115, 180],
  'garment_thin_pink.jpg': [140, 130, 120, 200],
};

/** What a person would say when the first try fails: how the stripes run, where they are, how many bands repeat. */
function hintsFor({ file, truth }: RealEntry, { widthPx }: Photo): StripeHints | null {
  const { stripe_axis_of_repeat: axis, edges_px } = truth;
  if (axis === undefined) return null;
  return {
    directionDeg: axis === 'x' ? 90 : 0,
    region: regionFor(file, edges_px?.strip, widthPx),
    bands: edges_px?.bands_per_repeat ?? null,
  };
}

function regionFor(
  file: string,
  strip: { readonly x: Point; readonly y: Point } | undefined,
  widthPx: number,
): PhotoRegion | null {
  if (strip) {
    // The strip read by hand is narrow: widened to what a region has to have.
    const x = Math.max(0, Math.min(widthPx - REGION_PX, (strip.x[0] + strip.x[1] - REGION_PX) / 2));
    return { x, y: strip.y[0], width: REGION_PX, height: strip.y[1] - strip.y[0] };
  }
  const drawn = DRAWN[file];
  return drawn ? { x: drawn[0], y: drawn[1], width: drawn[2], height: drawn[3] } : null;
}

const REGION_PX = 110;
