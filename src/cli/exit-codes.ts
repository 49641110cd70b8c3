import type { RefusalReason } from '../node.js';

/** What a script sees of a refusal; the help of each command lists those that it can give. */
export const EXIT_CODES: Readonly<Record<RefusalReason, number>> = {
  unreadable: 3,
  'no-scale': 4,
  'no-stripes': 5,
  'too-blurred': 6,
  'too-dark': 6,
  'no-paper': 7,
  'cut-off': 8,
  touching: 9,
  'no-placing': 12,
};
