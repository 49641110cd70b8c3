import { checkAll, optional, orNull, record, text } from '../base/expectation.js';
import { formatSmall, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';
import type { Raster } from '../raster/raster.js';
import { checkTexture } from '../render/check-texture.js';
import { type ClothTexture, clothPainter } from '../render/cloth-raster.js';
import { finishedPicture } from '../render/finished-picture.js';
import { layPicture } from '../render/lay-picture.js';
import { blankPage, place, placeHalves } from '../render/page.js';
import { PRINTABLE } from '../render/page-size.js';
import { atPx, atTrueSize, type Sheet } from '../render/picture-svg.js';
import { seamPicture } from '../render/seam-picture.js';
import { seamSheet } from '../render/seam-sheet.js';
import { checkPainter, type HalfWindow, stripePainter } from '../render/stripe-raster.js';
import { type CutPlan, paintPlan, planPicture } from '../render/where-to-cut.js';
import { checkPreview } from '../report/check-preview.js';
import type { ChevronPreview, SeamPreview } from '../seam/chevron-preview.js';
import { matchedAtCutEdge } from '../seam/cut-edge.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { clothContinuation, crossAxisOf, seamOnCloth, wholeCloth } from './cloth-in-use.js';
import { type CutGround, cutPlans } from './cut-plans.js';

/** A picture to be written: a painted page with lettering over it, and the same as SVG. */
export interface PictureJob {
  /** File name without its ending. */
  readonly name: string;
  readonly pxPerMm: number;
  /** White page with the painted halves, RGBA. */
  readonly paint: () => Raster<Uint8Array>;
  /** SVG of the page's own size in px, to be laid over it. */
  readonly lettering: string;
  /** User unit 1 mm, true size but for the sheet. pageHref: data URI of the painted page when embedsPage. */
  readonly svg: (pageHref: string | null) => string;
  /** Whether the stripes are pixels in the SVG too: the cloth's own. */
  readonly embedsPage: boolean;
}

/** All pictures of a preview: one a seam, the contact sheet, the halves on the cloth, one finished seam. */
export interface ChevronPictures {
  readonly title: string;
  readonly jobs: readonly PictureJob[];
  /** Name of each seam's picture, in the shape of preview.rows. */
  readonly seamNames: readonly (readonly string[])[];
  /** Where to cut each seam, in the same shape; null without a photographed cloth. */
  readonly plans: readonly (readonly (CutPlan | null)[])[] | null;
}

type Paint = (half: HalfOnCloth, window: HalfWindow) => Raster<Uint8Array>;

/** With more answers than this only that of the seam drawn finished is a picture of its own: the page shows them all. */
const MOST_PLANS = 6;

const CONTEXT = record({
  source: optional(orNull(text)),
  ground: optional(orNull(record({ texture: record({}) }))),
});

/**
 * cloth: paint with the photographed cloth's pixels; null: in the model's clean colours.
 */
export function chevronPictures(
  preview: ChevronPreview,
  cloth: ClothTexture | null,
  unit: LengthUnit,
  context: PictureContext = {},
): ChevronPictures {
  checkPreview(preview);
  if (cloth !== null) checkTexture(cloth, 'cloth');
  checkAll({ unit: [unit, LENGTH_UNIT], context: [context, CONTEXT] });
  const { source = null, ground = null } = context;
  const use = cloth === null ? null : clothContinuation(cloth, preview);
  const crossAxis = cloth === null ? null : crossAxisOf(cloth, preview);
  const { cross } = preview.rows[0][0].match;
  const paint =
    cloth !== null && use !== null
      ? clothPainter(wholeCloth(cloth, preview), use)
      : cross === null
        ? stripePainter(preview.pattern)
        : checkPainter(preview.pattern, cross);
  const prefix = cloth === null ? 'chevron' : 'cloth';
  const rows =
    use === null
      ? preview.rows
      : preview.rows.map((row) =>
          row.map((one) => ({ ...one, match: seamOnCloth(preview, one, use, crossAxis) })),
        );
  const studio: Studio = { preview, unit, paint, fromCloth: cloth !== null, source };
  const seamNames = rows.map((row) => row.map((one) => `${prefix}-${slug(one.match)}`));
  const jobs = rows.flatMap((row, i) => row.map((one, k) => seamJob(studio, seamNames[i][k], one)));
  jobs.push(sheetJob(studio, `${prefix}-sheet`, rows));
  const shown = rows[Math.floor((rows.length - 1) / 2)];
  jobs.push(layJob(`${prefix}-lay`, shown[0].match));
  const widest = shown.reduce((a, b) => (centreWidth(b.match) > centreWidth(a.match) ? b : a));
  jobs.push(finishedJob(studio, `${prefix}-${slug(widest.match)}-finished`, widest));
  const plans = ground === null ? null : cutPlans(preview, ground, unit);
  if (ground !== null) {
    const drawn = (plans ?? []).flatMap((row, i) =>
      row.flatMap((plan, k) => (plan === null ? [] : [{ plan, one: rows[i][k] }])),
    );
    const chosen = drawn.length > MOST_PLANS ? drawn.filter(({ one }) => one === widest) : drawn;
    for (const { plan, one } of chosen)
      jobs.push(planJob(studio, ground, `${prefix}-${slug(one.match)}-where-to-cut`, plan));
  }
  return { title: `Chevrons: ${colourWords(preview)}`, jobs, seamNames, plans };
}

/** What pictures may draw on besides the preview. */
export interface PictureContext {
  /** The model in a few words, as modelWords gives them; null leaves the pictures without. */
  readonly source?: string | null;
  /** The cloth to show the places on; null: no places are shown. */
  readonly ground?: CutGround | null;
}

interface Studio {
  readonly preview: ChevronPreview;
  readonly unit: LengthUnit;
  readonly paint: Paint;
  readonly fromCloth: boolean;
  readonly source: string | null;
}

const centreWidth = (match: SeamMatch): number => match.pattern.bands[match.request.centre].widthMm;

const slug = ({ request, pattern }: SeamMatch): string => {
  const angles =
    request.leftDeg === request.rightDeg ? [request.leftDeg] : [request.leftDeg, request.rightDeg];
  return [...angles, pattern.bands[request.centre].id].join('-').replace(/[^\w.-]+/g, '_');
};

function job(name: string, sheet: Sheet, paint: () => Raster<Uint8Array>, embedsPage: boolean): PictureJob {
  return {
    name,
    pxPerMm: sheet.widthPx / sheet.widthMm,
    paint,
    lettering: atPx(sheet),
    svg: (pageHref) => atTrueSize(sheet, pageHref),
    embedsPage,
  };
}

/** Said where a picture at true size would not fit a page. */
const SHRUNK = 'At true size this is larger than a page. Printed on one page it is smaller: go by the bar.';

/** The drawing is half as wide again as its seam is long. */
const isLargerThanPage = ({ request }: SeamMatch): boolean => 1.52 * request.seamMm > PRINTABLE.widthMm;

function seamJob(studio: Studio, name: string, one: SeamPreview): PictureJob {
  const { match } = one;
  const picture = seamPicture(match, {
    unit: studio.unit,
    expected: one.worst,
    drift: one.drift,
    agree: one.agree,
    forced: studio.preview.forced,
    notes: [
      ...ruleNotes(studio.preview),
      ...clothNotes(studio, one),
      ...(isLargerThanPage(match) ? [SHRUNK] : []),
      ...sourceNotes(studio),
    ],
  });
  return job(
    name,
    picture,
    () => {
      const page = blankPage(picture.widthPx, picture.heightPx);
      placeHalves(
        page,
        picture.pane,
        (w) => studio.paint(match.left, w),
        (w) => studio.paint(match.right, w),
      );
      return page;
    },
    studio.fromCloth,
  );
}

function sheetJob(studio: Studio, name: string, rows: readonly (readonly SeamPreview[])[]): PictureJob {
  const { preview } = studio;
  const sheet = seamSheet({
    title: `Chevrons: ${colourWords(preview)}`,
    rows: rows.map((row) =>
      row.map(({ match, worst }) => ({ match, expected: worst, forced: preview.forced })),
    ),
    verdict: preview.verdict,
    unit: studio.unit,
    notes: [
      ...ruleNotes(preview),
      ...(preview.lay.allowed === 'no' ? [] : [preview.lay.reason]),
      ...(studio.fromCloth ? [continued(preview)] : []),
      ...sourceNotes(studio),
    ],
  });
  return job(
    name,
    sheet,
    () => {
      const page = blankPage(sheet.widthPx, sheet.heightPx);
      for (const { pane, match } of sheet.panes) {
        placeHalves(
          page,
          pane,
          (w) => studio.paint(match.left, w),
          (w) => studio.paint(match.right, w),
        );
      }
      return page;
    },
    studio.fromCloth,
  );
}

function planJob(studio: Studio, ground: CutGround, name: string, plan: CutPlan): PictureJob {
  const picture = planPicture({ ...plan, words: [...plan.words, ...sourceNotes(studio)] });
  const paint = plan.cross === null ? stripePainter(plan.pattern) : checkPainter(plan.pattern, plan.cross);
  return job(name, picture, () => paintPlan(picture, ground.texture, paint), true);
}

const LAY_WIDTH_PX = 1000;

function layJob(name: string, match: SeamMatch): PictureJob {
  const widthMm = 2.6 * match.request.seamMm;
  const drawing = layPicture(match, widthMm, widthMm / 90);
  const sheet: Sheet = {
    title: 'How the two halves lie on the cloth',
    widthMm,
    heightMm: drawing.height,
    widthPx: LAY_WIDTH_PX,
    heightPx: Math.round((LAY_WIDTH_PX * drawing.height) / widthMm),
    lettering: drawing.svg,
    stripes: () => '',
  };
  return job(name, sheet, () => blankPage(sheet.widthPx, sheet.heightPx), false);
}

function finishedJob(studio: Studio, name: string, one: SeamPreview): PictureJob {
  const { preview } = studio;
  const { match } = one;
  const picture = finishedPicture(
    match,
    matchedAtCutEdge(match, preview.allowanceMm),
    preview.allowanceMm,
    one.cutEdge,
    studio.unit,
  );
  return job(
    name,
    picture,
    () => {
      const page = blankPage(picture.widthPx, picture.heightPx);
      for (const { half, window, leftPx, topPx } of picture.windows) {
        place(page, studio.paint(half, window), leftPx, topPx);
      }
      return page;
    },
    studio.fromCloth,
  );
}

const continued = ({ lattice }: ChevronPreview): string =>
  `Beyond what was photographed, and under the ruler, the cloth is continued by whole repeats${
    lattice === null ? ', and along its stripes by itself' : ''
  }; differences there are not marked.`;

const ruleNotes = (preview: ChevronPreview): string[] =>
  preview.forced ? [`The cloth does not allow this: ${preview.lay.reason}`] : [];

const sourceNotes = ({ source }: Studio): string[] => (source === null ? [] : [`Drawn from ${source}.`]);

function clothNotes(studio: Studio, one: SeamPreview): string[] {
  if (!studio.fromCloth) return [];
  const { unit, preview } = studio;
  const marked = `Differences of ${formatSmall(preview.visibleMm, unit)} and less are not marked.`;
  if (one.best === null) return [marked, continued(preview)];
  const { left, right, worstMm, edgesSeen, crossings, continued: partly } = one.best;
  const expected = one.bestExpected;
  const worst =
    expected === null
      ? `worst edge out by ${formatSmall(worstMm, unit)}`
      : `worst edge out by ${formatSmall(expected.cloth.p90, unit)} or less, sewn ${formatSmall(expected.sewn.p90, unit)}`;
  const beyond = partly ? `; partly beyond the photo: ${edgesSeen} of ${crossings.length} edges seen` : '';
  const places = `Cloth's own pixels: left half from repeat ${left.repeat}, right half from repeat ${right.repeat}, ${worst}${beyond}.`;
  return [places, marked, continued(preview)];
}

function colourWords(preview: ChevronPreview): string {
  const names = [...new Set(preview.pattern.bands.map((band) => band.name))];
  const list =
    names.length > 1 ? `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}` : names[0];
  return `${list} ${preview.rows[0][0].match.cross === null ? 'stripe' : 'check'}`;
}
