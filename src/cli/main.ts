#!/usr/bin/env node
import { readFileSync } from 'node:fs';
import { Command, CommanderError } from 'commander';
import { UsageError } from '../node.js';
import { registerChevron } from './chevron.js';
import { compileLess } from './compile-less.js';
import { registerLay } from './lay.js';
import { registerMeasure } from './measure.js';
import { SERVE } from './names.js';
import { withOptions } from './option-words.js';
import { registerPieces } from './pieces.js';
import { registerPlace } from './place.js';
import { registerPlan } from './plan.js';
import { complain } from './print.js';
import { readyToEnd } from './ready-to-end.js';
import { registerTrace } from './trace.js';

// A process that serves many photos comes to be worth compiling for.
if (process.argv[2] !== SERVE) compileLess();

const FAILED = 1;
const WRONG_USE = 2;

const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));

const program = new Command('stripewright')
  .description(
    'From a phone photo of striped cloth with a ruler, to pieces cut so that the stripes land where they were wanted.',
  )
  .version(version)
  .exitOverride()
  .configureOutput({
    // One line, whatever the library has to suggest.
    outputError: (text, write) =>
      write(
        `${text
          .trim()
          .replace(/^error: /, '')
          .replace(/\s*\n\s*/g, ' ')}\n`,
      ),
  });
registerMeasure(program);
registerChevron(program);
registerPieces(program);
registerTrace(program);
registerPlan(program);
registerPlace(program);
registerLay(program);
program.command(SERVE, { hidden: true }).action(async () => {
  const { servePhotos } = await import('./batch/photo-process.js');
  await servePhotos();
});

// A reader that has seen enough, such as "head", is no failure.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  readyToEnd();
  process.exit();
});

try {
  await program.parseAsync();
} catch (error) {
  process.exitCode = exitCodeOf(error);
}
readyToEnd();

/** Prints the one line that a failure is worth, unless commander has, and says how to exit. */
function exitCodeOf(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : WRONG_USE;
  if (error instanceof UsageError) {
    complain(withOptions(error));
    return WRONG_USE;
  }
  const line = error instanceof Error ? error.message : String(error);
  const { syscall } = error as NodeJS.ErrnoException;
  complain(`${syscall ? 'The result could not be written' : 'The program failed'}: ${line}`);
  return FAILED;
}
