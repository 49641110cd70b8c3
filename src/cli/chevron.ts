import { type Command, Option } from 'commander';
import { LAYS } from '../node.js';
import type { ChevronOptions } from './run-chevron.js';

const AFTER_HELP = `
Lays: how the right half lies on the cloth.
  same-way      right side up, its top the same way along the stripes: balanced stripes only
  head-to-tail  right side up, its top the other way: not on one-way cloth
  wrong-side    the same way up, wrong side showing
  run-on        like the left half: the stripes slant on across the seam, no V

Exit codes:
  0  drawn
  1  the result could not be written, or the program failed
  2  wrong use: an unknown option or band, a value that makes no sense, a lay that the cloth forbids
  3  model or cloth not usable: missing, damaged, against its schema, or without a repeat

Examples:
  stripewright chevron ticking
  stripewright chevron ticking.bands.json --angles 45/38 --centre ochre --at 60mm
  stripewright chevron ticking --angles 45/38 --agree-at 12cm
  stripewright chevron --cloth "indigo 14, ivory 9, ochre 4"
  stripewright chevron printed --centre b1 --clear 5mm
  stripewright chevron ticking --from cloth --seam 24in --units inch`;

/** Adds the command `chevron`. Sets process.exitCode as AFTER_HELP says. */
export function registerChevron(program: Command): void {
  program
    .command('chevron')
    .description('show how two pieces of a measured cloth meet at a seam, and what mismatch to expect')
    .argument('[model]', 'a bands.json, or the folder a measurement was written to')
    .option(
      '--cloth <bands>',
      'instead of a model, the bands of one repeat: "indigo 14, ivory 9, ochre 4"; colour words or #rrggbb, widths in mm or with a unit; "one-way" or "two-way" may end it',
    )
    .option(
      '--angles <list>',
      'degrees between stripe and seam: 30,45,60, or 45/38 for unequal sides (default: 30,45,60)',
    )
    .option(
      '--centre <bands>',
      'band that meets the seam at the marked point: its id, or its colour if no other band has it (default: each in turn)',
    )
    .option('--at <length>', 'the marked point, down from the top of the seam (default: its middle)')
    .option('--seam <length>', 'length of the seam (default: 400mm)')
    .option('--shift <length>', 'slip the right half by so much across its stripes')
    .option(
      '--agree-at <length>',
      'unequal sides: slip the right half so that they agree here, down from the top of the seam',
    )
    .option('--allowance <length>', 'seam allowance (default: 15mm)')
    .option(
      '--handling <length>',
      'how far laying, cutting and sewing let the halves slip along the seam, 9 times in 10 (default: 1.5mm, common practice; 0: not at all)',
    )
    .option(
      '--visible <length>',
      'with --from cloth, mark no shorter difference than this (default: 0.5mm, what an eye makes out at 1.7 m)',
    )
    .option(
      '--clear <length>',
      'lay the halves so that the seam keeps so far from motifs on the band at the marked point',
    )
    .option('--lay <way>', `how the right half lies: ${LAYS.join(', ')} (default: the best one allowed)`)
    .option('--anyway', 'draw a lay that the cloth forbids, with its true mismatch')
    .option('--inverted', 'point of the V upwards')
    .addOption(
      new Option('--from <source>', 'paint with clean bands or with the photographed cloth')
        .choices(['model', 'cloth'])
        .default('model'),
    )
    .addOption(new Option('--units <unit>', 'lengths shown in').choices(['mm', 'cm', 'inch']).default('mm'))
    .option('--out <folder>', 'where the pictures go (default: "chevron" inside a measurement\'s folder)')
    .option('--json', 'print chevron.json and nothing else; pictures only with --out')
    .option('--quiet', 'print nothing')
    .addHelpText('after', AFTER_HELP)
    .action(async (path: string | undefined, options: ChevronOptions) => {
      const { runChevron } = await import('./run-chevron.js');
      process.exitCode = await runChevron(path, options);
    });
}
