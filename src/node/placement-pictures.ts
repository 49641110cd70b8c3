import sharp from 'sharp';
import { checkAll, listOf, oneOf, orNull, record } from '../core/base/expectation.js';
import {
  type ClothTiles,
  clothTilesOf,
  drawnAnswers,
  type LengthUnit,
  type Outcome,
  type Placement,
  type Placings,
  placePage,
  placePictures,
  refuse,
  type SvgSheet,
  succeed,
} from '../index.js';
import { readCloth } from './read-cloth.js';
import type { PlanFile } from './read-plan.js';

const PLAN_FILE = record(
  { plan: record({ wishes: listOf(record({})) }), model: orNull(record({})) },
  'a plan as readPlan gives it',
);

/** A placement's pictures and its page. from cloth: refused where the model has no picture of the cloth beside it. */
export async function placementPictures(
  planFile: PlanFile,
  placings: Placings,
  placement: Placement,
  options: { readonly from: 'model' | 'cloth'; readonly units: LengthUnit },
): Promise<Outcome<{ readonly sheets: SvgSheet[]; readonly page: string }>> {
  checkAll({
    planFile: [planFile, PLAN_FILE],
    options: [options, record({ from: oneOf(['model', 'cloth']) })],
  });
  const { plan, model } = planFile;
  const { from, units } = options;
  let tiles: ClothTiles | null = null;
  let tilePicture: string | null = null;
  if (from === 'cloth') {
    if (model === null)
      return refuse(
        'unreadable',
        'The cloth of the plan is plain, so there is no picture of it',
        'draw from the model',
      );
    const cloth = await readCloth(model);
    if (!cloth.ok) return cloth;
    const filled = clothTilesOf(cloth.value, model.model);
    tiles = filled.tiles;
    const { picture, leftUMm, topVMm, pxPerMm } = filled.texture;
    const jpeg = await sharp(picture.data, {
      raw: { width: picture.width, height: picture.height, channels: 4 },
    })
      .flatten({ background: '#ffffff' })
      .resize({ width: Math.min(picture.width, TILE_PX) })
      .jpeg({ quality: 88 })
      .toBuffer();
    const [width, height] = [picture.width / pxPerMm, picture.height / pxPerMm];
    // v runs up, pictures down.
    tilePicture = `<image transform="matrix(1 0 0 -1 ${leftUMm} ${topVMm})" width="${width}" height="${height}" preserveAspectRatio="none" href="data:image/jpeg;base64,${jpeg.toString('base64')}"/>`;
  }
  const style = { unit: units, tiles, tilePicture };
  const sheets = placePictures(placings, placement, plan.wishes, model?.model ?? null, style);
  const answers = drawnAnswers(placings, placement, plan.wishes, model?.model ?? null, units);
  return succeed({ sheets, page: placePage(placement, answers, sheets, units) });
}

/** A tile finer than this shows nothing more in a picture of a whole garment. */
const TILE_PX = 800;
