import { type Command, Option } from 'commander';
import type { PiecesOptions } from './run-pieces.js';

const AFTER_HELP = `
Written: overview.png and overview.svg, the picture to look at first; pieces.svg at true size,
pieces.json, and with --dxf pieces.dxf. Each of the three can be given to this command again.

Exit codes:
  0  drawn
  1  the result could not be written, or the program failed
  2  wrong use: an unknown option, a value that makes no sense, a size that is not in the file
  3  file not usable: missing, damaged, or with a piece that cannot be cut (the line says which, and where)
  4  no scale: the file does not say how long a unit is

Examples:
  stripewright pieces tunic.svg
  stripewright pieces tunic.dxf --file-unit inch --size 38 --units inch
  stripewright pieces tunic.dxf --boundary cutting --allowance 15mm --out tunic`;

/** Adds the command `pieces`. Sets process.exitCode as AFTER_HELP says. */
export function registerPieces(program: Command): void {
  program
    .command('pieces')
    .description(
      'read pattern pieces and show what was understood: lines, seams and their lengths, grain, stripes, how many to cut',
    )
    .argument('<file>', 'an SVG, a DXF or a pieces.json, or a folder with a pieces.json')
    .addOption(new Option('--units <unit>', 'lengths shown in').choices(['mm', 'cm', 'inch']).default('mm'))
    .addOption(
      new Option(
        '--file-unit <unit>',
        'the unit of the numbers in a DXF, if the file does not say or says it wrongly',
      ).choices(['mm', 'cm', 'm', 'inch']),
    )
    .option('--size <size>', 'which of the sizes in a DXF (default: the one it was drawn in, else the first)')
    .addOption(
      new Option(
        '--boundary <line>',
        'what the outlines in a DXF are if it has no sew lines (default: stitching, with a note)',
      ).choices(['stitching', 'cutting']),
    )
    .option(
      '--allowance <length>',
      'with --boundary cutting: how far inside the cutting line the stitching line runs, such as 15mm or 5/8in',
    )
    .option('--dxf', 'write pieces.dxf too')
    .option('--out <folder>', 'where the results go (default: a folder named after the file)')
    .option('--json', 'print pieces.json and nothing else; files only with --out')
    .option('--quiet', 'print nothing')
    .addHelpText('after', AFTER_HELP)
    .action(async (path: string, options: PiecesOptions) => {
      const { runPieces } = await import('./run-pieces.js');
      process.exitCode = await runPieces(path, options);
    });
}
