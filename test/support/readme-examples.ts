import { readFileSync } from 'node:fs';

export const README = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');

const FENCE = /^```(\w+)\n(.*?)^```$/gms;

/** What stands in the fenced blocks of one language, block by block. */
export const blocksOf = (language: string): string[] =>
  [...README.matchAll(FENCE)].filter((block) => block[1] === language).map((block) => block[2]);

/** The shell commands in order: a line each, or the whole block where it is a script. */
export const shellCommands = (): string[] =>
  blocksOf('sh').flatMap((block) =>
    block.startsWith('#!') ? [block] : block.split('\n').filter((line) => line.trim() !== ''),
  );

/** Names of options that README's prose and tables speak of, code blocks left out. */
export function optionsNamed(): string[] {
  const prose = README.replace(FENCE, '');
  const spans = [...prose.matchAll(/`([^`]+)`/g)].map(([, code]) => code);
  return [...new Set(spans.flatMap((code) => code.match(/(?<![\w-])--[a-z][a-z-]*/g) ?? []))];
}
