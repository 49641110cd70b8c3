import { formatLength, formatSmall, type LengthUnit } from '../base/length.js';
import type { NoBest } from '../seam/best-places.js';
import type { ChevronPreview, SeamPreview } from '../seam/chevron-preview.js';
import type { BandCrossing } from '../seam/clean-places.js';
import type { SeamRequest } from '../seam/seam-request.js';

/** Columns of a plain terminal. */
const WIDTH = 80;

/** What a maker reads under the table of seams. */
export function chevronWords(preview: ChevronPreview, unit: LengthUnit): string[] {
  const all = preview.rows.flat();
  const firsts = preview.rows.map((row) => row[0]);
  return [
    ...wrapped('repeat, wide: along the seam. out: longest stretch where colours do not meet.'),
    ...expectWords(all, preview, unit),
    ...bestWords(all, preview.forced),
    ...firsts.flatMap((one) => crossWords(one, unit)),
    ...all.flatMap((one) => clearWords(one, unit)),
    ...all.flatMap((one) => agreeWords(one, preview, unit)),
    ...cutEdgeWords(firsts, preview.allowanceMm, unit),
  ];
}

/** "45°" or "45°/38°". */
export const angleWords = ({ leftDeg, rightDeg }: SeamRequest): string =>
  leftDeg === rightDeg ? `${leftDeg}°` : `${leftDeg}°/${rightDeg}°`;

function expectWords(all: readonly SeamPreview[], preview: ChevronPreview, unit: LengthUnit): string[] {
  if (preview.forced) {
    return wrapped(
      'Nothing is expected of a seam that the cloth does not allow: it is out by what is under "out".',
    );
  }
  if (all.every((one) => one.worst === null || one.drift !== null)) {
    return all.some((one) => one.drift === null && one.basis === null)
      ? wrapped(
          'expect, sewn: unknown, since the model does not say how uneven the cloth is. A measured photo does.',
        )
      : [];
  }
  const slip = formatSmall(preview.handlingMm, unit);
  const lines = wrapped(
    `expect: the worst edge of the seam, halves from any two repeats, 9 times in 10, if only the cloth is uneven. sewn: if the halves also slip along the seam, by ${slip} or less 9 times in 10, as they are laid, cut and sewn.`,
  );
  if (all.some((one) => one.basis === 'widths')) {
    lines.push(
      ...wrapped(
        'Both are from the spread of the widths, as if the repeat were steady: if it drifts, expect more.',
      ),
    );
  } else {
    const { sequence } = preview;
    if (sequence !== null && sequence.repeats < FEW_REPEATS) {
      lines.push(
        ...wrapped(
          `With only ${sequence.repeats} whole repeats in the photo nobody can tell whether the repeat drifts, so both are wider; more cloth in view narrows them.`,
        ),
      );
    }
  }
  return lines;
}

/** With so many in view the figures are within a tenth or so of what ever more would give (simulated, both kinds of cloth). */
const FEW_REPEATS = 6;

function bestWords(all: readonly SeamPreview[], forced: boolean): string[] {
  const lines: string[] = [];
  if (all.some((one) => one.best !== null)) {
    lines.push(
      ...wrapped(
        'best repeats: cut the left half at the first, the right half at the second; if only the cloth is uneven, the worst edge seen is out by this or less, 9 times in 10.',
      ),
    );
  }
  const partly = all.filter((one) => one.best?.continued === true);
  if (partly.length > 0) {
    const seen = byAngle(partly, ({ best }) => `${best?.edgesSeen} of ${best?.crossings.length} edges seen`);
    lines.push(...wrapped(`* partly beyond the photo, where nothing is known: ${seen}.`));
  }
  for (const reason of new Set(all.map((one) => one.noBest))) {
    const words = reason === null ? undefined : NO_BEST[reason];
    if (words === undefined) continue;
    const seams = byAngle(
      all.filter((one) => one.noBest === reason),
      () => '',
    );
    lines.push(...wrapped(`none (${seams}): ${words}`));
  }
  if (all[0].sameBands && !forced && all.some((one) => one.drift === null)) {
    lines.push(
      ...wrapped(
        'Least trouble: cut both halves from the same bands, one further along the stripes; uneven widths then cancel.',
      ),
    );
  }
  return lines;
}

/** "45° b1 and b3 30 of 32 edges seen, b2 31 of 32 edges seen; 60° ...": bands of which the same is said together. */
function byAngle(seams: readonly SeamPreview[], say: (one: SeamPreview) => string): string {
  const angles = new Map<string, Map<string, string[]>>();
  for (const one of seams) {
    const { request, pattern } = one.match;
    const angle = angleWords(request);
    const said = angles.get(angle) ?? new Map<string, string[]>();
    angles.set(angle, said.set(say(one), [...(said.get(say(one)) ?? []), pattern.bands[request.centre].id]));
  }
  return [...angles]
    .map(
      ([angle, said]) =>
        `${angle} ${[...said].map(([words, bands]) => `${bands.join(' ')} ${words}`.trim()).join(', ')}`,
    )
    .join('; ');
}

/** Reasons that need telling: the others are told already, or follow from what is. */
const NO_BEST: Readonly<Partial<Record<NoBest, string>>> = {
  'one-place': 'the photo shows this band whole in one place only; photograph more repeats.',
  'too-little-seen':
    'less than half of the seam is in the photo at any two places; photograph more of the cloth, or ask of a shorter seam.',
};
/** How the cross stripes of a check meet at the same seam. */
function crossWords({ match, cross }: SeamPreview, unit: LengthUnit): string[] {
  if (cross === null) return [];
  const out = cross.match.unmatched.reduce((most, s) => Math.max(most, s.toMm - s.fromMm), 0);
  const expected =
    cross.worst !== null
      ? `; expect ${formatSmall(cross.worst.cloth.p90, unit)}, sewn ${formatSmall(cross.worst.sewn.p90, unit)}`
      : cross.basis === null
        ? '; how uneven they are is not known'
        : '';
  return wrapped(
    `${angleWords(match.request)}: the cross stripes repeat every ${formatLength(cross.match.repeatAlongMm[0], unit)} along the seam and ${out === 0 ? 'meet' : `do not meet along ${formatSmall(out, unit)}`}${expected}.`,
  );
}

/** Where to lay a seam that was asked to keep clear of motifs. */
function clearWords({ match, clear }: SeamPreview, unit: LengthUnit): string[] {
  if (clear === null) return [];
  const { request, pattern } = match;
  const side = (name: string, { alongMm, clearanceMm, motifEdgesCut }: BandCrossing): string => {
    const room =
      clearanceMm >= clear.marginMm - 1e-6
        ? `clear by ${formatSmall(clearanceMm, unit)}`
        : clearanceMm > 0
          ? `only ${formatSmall(clearanceMm, unit)} clear`
          : 'through a motif';
    return `${name} at ${formatLength(alongMm, unit)} along, ${room}, ${motifEdgesCut} motif edge${motifEdgesCut === 1 ? '' : 's'} cut`;
  };
  return wrapped(
    `${angleWords(request)} ${pattern.bands[request.centre].id}: ${side('left', clear.left)}; ${side('right', clear.right)}.`,
  );
}

/** Sides of unequal angle: where they agree and how fast they part. */
function agreeWords(
  { match, drift, agree }: SeamPreview,
  preview: ChevronPreview,
  unit: LengthUnit,
): string[] {
  if (drift === null) return [];
  const { request, pattern } = match;
  const name = (band: number): string => `${pattern.bands[band].name} (${pattern.bands[band].id})`;
  const places = agree.map(({ atMm, band }) => `${formatLength(atMm, unit)} from the top, on ${name(band)}`);
  const where =
    places.length === 0
      ? 'the sides agree nowhere on this seam'
      : `the sides agree ${places.length === 1 ? 'only at' : 'at'} ${places.join(', and at ')}`;
  const [perMm, per] = unit === 'inch' ? [101.6, '4 in'] : [100, unit === 'cm' ? '10 cm' : '100 mm'];
  const rate = formatSmall((Math.abs(drift.per100Mm) * perMm) / 100, unit);
  const shift =
    preview.agreeAtMm === null
      ? ''
      : ` For that the right half is slipped ${formatSmall(Math.abs(request.shiftMm), unit)} across its stripes, ${request.shiftMm < 0 ? 'up' : 'down'} the seam.`;
  return wrapped(
    `${angleWords(request)} ${pattern.bands[request.centre].id}: ${where}; away from there they part by ${rate} for every ${per} of seam.${shift}`,
  );
}

function cutEdgeWords(firsts: readonly SeamPreview[], allowanceMm: number, unit: LengthUnit): string[] {
  const off = firsts.flatMap(({ match, cutEdge }) => {
    if (!(allowanceMm > 0 && cutEdge.runOnMismatchMm > 0.005)) return [];
    const angle = angleWords(match.request);
    if (match.request.lay === 'run-on')
      return [`at ${angle} the halves miss by ${formatSmall(cutEdge.runOnMismatchMm, unit)}`];
    const halves =
      cutEdge.mirroredMismatchMm > 0.005
        ? ` and the halves miss by ${formatSmall(cutEdge.mirroredMismatchMm, unit)}`
        : '';
    return [
      `at ${angle} the point of the V ends up ${formatSmall(cutEdge.pointsMoveMm, unit)} higher or lower${halves}`,
    ];
  });
  if (off.length === 0) return [];
  return wrapped(`Match on the stitching line. If you match at the cutting line, ${off.join('; ')}.`);
}

/** Broken into lines of a terminal's width. */
export function wrapped(text: string): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + 1 + word.length <= WIDTH)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
