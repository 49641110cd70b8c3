/** Colours of lettering and marks, shared by every seam picture. */
export const INK = '#1c1c1c';
export const SOFT = '#5f5f5f';
/** Marks of misfit: read by their shape first, by this colour second. */
export const ALERT = '#c4005a';
