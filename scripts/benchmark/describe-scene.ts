import type { Scene } from '../../test/support/photo-painter/scene.js';
import { colourStep } from './random/bands.js';

/** What was drawn, short enough for a row of a table. */
export function describeScene(scene: Scene): string {
  const { cloth, reference, camera, light, sensor } = scene;
  const { ground } = cloth;
  const parts: string[] = [];
  if (ground.kind === 'striped') {
    const { bands } = ground;
    const repeat = bands.reduce((sum, band) => sum + band.widthMm, 0);
    const narrowest = Math.min(...bands.map((band) => band.widthMm));
    const step = Math.min(...bands.map((b, i) => colourStep(b.colour, bands[(i + 1) % bands.length].colour)));
    parts.push(`n${bands.length} rep ${repeat.toFixed(1)} min ${narrowest.toFixed(1)} dE ${step.toFixed(0)}`);
    if (ground.bowPercent) parts.push(`bow ${ground.bowPercent.toFixed(1)}`);
    if (ground.unevenness > 0.01) parts.push(`uneven ${(100 * ground.unevenness).toFixed(1)}%`);
    if (ground.motif) parts.push(`shell ${ground.motif.heightMm.toFixed(0)}`);
    if (bands.some(({ shadeTo }) => shadeTo !== undefined)) parts.push('shaded');
    if (ground.check) parts.push(`check n${ground.check.length}`);
  } else parts.push(ground.kind);
  if (reference) {
    const angle = ((reference.angleDeg % 360) + 360) % 360;
    parts.push(`${reference.type} at ${angle.toFixed(0)}`);
    if (reference.bendPerMm) parts.push(`bent ${(1e5 * reference.bendPerMm).toFixed(0)}`);
    if (reference.gloss) parts.push(`gloss ${reference.gloss.strength.toFixed(1)}`);
    if (reference.wear > 0.35) parts.push(`worn ${reference.wear.toFixed(1)}`);
  } else parts.push('no reference');
  if (scene.moreReferences) parts.push(`and ${scene.moreReferences.map(({ type }) => type).join(', ')}`);
  if (scene.objects) parts.push(`objects ${scene.objects.length}`);
  for (const { normalDeg, selvage } of cloth.borders ?? [])
    parts.push(selvage ? `selvage ${normalDeg.toFixed(1)}` : 'cut edge');
  if (cloth.folds) parts.push(`folds ${cloth.folds.map(({ heightMm }) => heightMm.toFixed(1)).join(' ')}`);
  const megapixels = (camera.widthPx * camera.heightPx) / 1e6;
  const focalPx = (camera.focal35Mm * Math.hypot(camera.widthPx, camera.heightPx)) / 43.267;
  parts.push(`${megapixels.toFixed(0)}MP ${(focalPx / camera.distanceMm).toFixed(1)}px/mm`);
  parts.push(`f${camera.focal35Mm}${camera.exifFocal ? '' : '?'}`);
  if (camera.k1) parts.push(`k1 ${camera.k1.toFixed(3)}`);
  const slope = Math.hypot(...light.gradient);
  if (slope > 0.12) parts.push(`grad ${slope.toFixed(2)}`);
  if (light.exposure < 0.65) parts.push(`exp ${light.exposure.toFixed(2)}`);
  if (light.shadows.length > 0) parts.push(`shadow ${light.shadows.length}`);
  if (light.creases && light.creases.length > 0) parts.push(`crease ${light.creases.length}`);
  parts.push(
    `blur ${sensor.blurPx.toFixed(1)} noise ${sensor.noiseLevels.toFixed(0)} q${sensor.jpegQuality}`,
  );
  return parts.join(', ');
}
