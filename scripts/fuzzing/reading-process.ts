import { readPhoto } from '../../src/node/read-photo.js';

/** Reads the files it is sent the names of, one after another, as the program would. */
process.on('message', async (path: string) => {
  const outcome = await readPhoto(path).then(
    (read) => (read.ok ? 'read' : read.refusal.reason),
    (error: Error) => `threw ${error.message}`,
  );
  // GiB never come up here: maxRSS is in KiB.
  process.send?.({ outcome, peakMb: process.resourceUsage().maxRSS / 1024 });
});
process.on('disconnect', () => process.exit());
