import {
  type BandModel,
  type BatchFailure,
  type BatchSetting,
  entryFacts,
  type FailureReason,
  type RecordedEntry,
  refusalLine,
  sha256OfFile,
  type Thumbnail,
  thumbnailOf,
  thumbnailOfUri,
  UsageError,
  writeBatchRecord,
} from '../../node.js';
import { type MeasureWords, measureOne } from '../measure-one.js';

/** One photo's work, as it is sent to a process. */
export interface PhotoTask {
  readonly photo: string;
  /** Where its results go, or null for the model alone. */
  readonly folder: string | null;
  readonly words: MeasureWords;
  readonly setting: BatchSetting;
  /** Whether the model itself is wanted back. */
  readonly wantsModel: boolean;
}

export interface PhotoResult {
  readonly entry: RecordedEntry;
  readonly model: BandModel | null;
}

/** Measures one photo of many. Never throws: what goes wrong with one photo is its result. */
export async function runPhotoTask(task: PhotoTask): Promise<PhotoResult> {
  try {
    return await measured(task);
  } catch (error) {
    return { entry: failedEntry(failureOf(error)), model: null };
  }
}

async function measured({ photo, folder, words, setting, wantsModel }: PhotoTask): Promise<PhotoResult> {
  const outcome = await measureOne(photo, words, folder);
  if (!outcome.ok) {
    const { refusal } = outcome;
    const sha256 = await sha256OfFile(photo).catch(() => null);
    const thumbnail = folder === null || refusal.reason === 'unreadable' ? null : await thumbnailOf(photo);
    const failure = { reason: refusal.reason, message: refusalLine(refusal), settings: refusal.settings };
    const entry = { ...failedEntry(failure), sha256, thumbnail };
    // The photo will be refused again: that, too, is work done.
    if (folder !== null && sha256 !== null) await writeBatchRecord(folder, setting, entry, []);
    return { entry, model: null };
  }
  const { model, files, overlay } = outcome.value;
  const thumbnail: Thumbnail | null = overlay ? await thumbnailOfUri(overlay.uri) : null;
  const entry: RecordedEntry = {
    sha256: model.photo?.sha256 ?? null,
    outcome: 'measured',
    failure: null,
    thumbnail,
    facts: entryFacts(model),
  };
  if (folder !== null) await writeBatchRecord(folder, setting, entry, files ?? []);
  return { entry, model: wantsModel ? model : null };
}

export const failedEntry = (failure: BatchFailure): RecordedEntry => ({
  sha256: null,
  outcome: 'failed',
  failure,
  thumbnail: null,
  facts: null,
});

function failureOf(error: unknown): BatchFailure {
  const message = error instanceof Error ? error.message : String(error);
  if (error instanceof UsageError) {
    const { parameter, settings } = error;
    return { reason: 'wrong-use', message, parameter: parameter ?? undefined, settings };
  }
  const [reason, words]: [FailureReason, string] = (error as NodeJS.ErrnoException).syscall
    ? ['not-written', 'The result could not be written']
    : ['program-failed', 'The program failed'];
  return { reason, message: `${words}: ${message}` };
}
