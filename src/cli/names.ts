/** Hidden command by which a process of a batch is started. */
export const SERVE = 'serve-photos';
