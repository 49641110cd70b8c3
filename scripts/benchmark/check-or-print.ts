import { measureCloth } from '../../src/core/pipeline/measure-cloth.js';
import {
  type CheckOrPrint,
  checklikePrints,
  checkOrPrintFaults,
  TURNS_DEG,
  wovenChecks,
} from '../../test/support/check-or-print-scenes.js';
import { FLAT_PX_PER_MM, flatCloth } from '../../test/support/flat-cloth.js';

/** Checks with little of their second direction, and prints that look like checks, lying flat, each turned several ways. */
export function benchCheckOrPrint(wanted: RegExp): void {
  const scenes = [...wovenChecks(), ...checklikePrints()].filter(({ name }) => wanted.test(name));
  let right = 0;
  let mistaken = 0;
  for (const scene of scenes) {
    for (const turnDeg of TURNS_DEG) {
      const faults = faultsOf(scene, turnDeg);
      if (faults.length === 0) right++;
      else console.log(`${scene.kind}, ${scene.name}, at ${turnDeg} degrees: ${faults.join('; ')}`);
      if (faults.some((fault) => fault.startsWith('taken for'))) mistaken++;
    }
  }
  console.log(
    `${right} of ${scenes.length * TURNS_DEG.length} right, ${mistaken} mistaken for the other kind`,
  );
}

function faultsOf(scene: CheckOrPrint, turnDeg: number): string[] {
  const photo = flatCloth({ ...scene.cloth, turnDeg, seed: 5 });
  const measured = measureCloth(photo, { kind: 'density', pxPerMm: FLAT_PX_PER_MM });
  if (!measured.ok) return [`refused: ${measured.refusal.found}`];
  const codes = measured.value.model.warnings.map(({ code }) => code);
  const faults = checkOrPrintFaults(scene, measured.value.model);
  return faults.length > 0 && codes.length > 0 ? [...faults, `warned: ${codes.join(', ')}`] : faults;
}
