/** Writes README's figures anew from those that were kept. */
import { writeFileSync } from 'node:fs';
import { currentReadme, README } from './current-readme.js';

const { is, should } = currentReadme();
if (is !== should) writeFileSync(README, should);
console.log(is === should ? 'README.md: figures are up to date' : 'README.md: figures written');
