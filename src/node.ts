/** Node: everything of the any-runtime door, and files. */
export * from './index.js';
export { readCloth } from './node/read-cloth.js';
export { type ModelFile, readModel } from './node/read-model.js';
export { writeChevron } from './node/write-chevron.js';
export { type ResultFile, writeFiles } from './node/write-files.js';
