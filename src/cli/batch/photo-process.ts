import { type PhotoResult, type PhotoTask, runPhotoTask } from './photo-task.js';

/** What a process sends back for each photo. */
export interface PhotoReply extends PhotoResult {
  /** Memory the process holds now, bytes: one that has grown is replaced. */
  readonly heldBytes: number;
}

/** The work of one process of many: measures what it is sent, one photo after another, until it is ended from outside. Never ends. */
export async function servePhotos(): Promise<void> {
  if (process.send === undefined) return;
  // Whoever sent the work is gone. By a signal, so that a result being written is taken back.
  process.on('disconnect', () => process.kill(process.pid, 'SIGTERM'));
  process.on('message', async (task: PhotoTask) => {
    const result = await runPhotoTask(task);
    const reply: PhotoReply = { ...result, heldBytes: process.memoryUsage.rss() };
    process.send?.(reply);
  });
  await new Promise(() => {});
}
