import {
  type BandModel,
  type BatchFailure,
  type BatchSetting,
  entryFacts,
  type FailureReason,
  type RecordedEntry,
  refusalLine,
  sha256OfFile,
  thumbnailOf,
  thumbnailOfUri,
  UsageError,
  writeBatchRecord,
} from '../../node.js';
import { type Measured, type MeasureWords, measureOne } from '../measure-one.js';
import { typedOptions } from './own-options.js';

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

/** What was given for this photo alone, as a person would type it, in the shape in which an entry has it. */
const ownOptions = ({ own }: BatchSetting): Pick<RecordedEntry, 'ownOptions'> =>
  own ? { ownOptions: typedOptions(own) } : {};

export interface PhotoResult {
  readonly entry: RecordedEntry;
  readonly model: BandModel | null;
  /** Folders inside the photo's in which what was drawn from an earlier measurement is kept now. */
  readonly setAside?: readonly string[];
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
    const entry = { ...failedEntry(failure), sha256, thumbnail, ...ownOptions(setting) };
    // The photo will be refused again: that, too, is work done.
    const hasRecord = folder !== null && sha256 !== null;
    const setAside = hasRecord ? await writeBatchRecord(folder, setting, entry, []) : [];
    return { entry, model: null, setAside };
  }
  const { model, setAside } = outcome.value;
  const entry = await recordMeasured(folder, setting, outcome.value);
  return { entry, model: wantsModel ? model : null, setAside };
}

/** The entry of a photo that was measured; says in its folder, if it has one, that its work is done. */
export async function recordMeasured(
  folder: string | null,
  setting: BatchSetting,
  { model, files = [], overlay }: Measured,
): Promise<RecordedEntry> {
  const entry: RecordedEntry = {
    sha256: model.photo?.sha256 || null,
    outcome: 'measured',
    failure: null,
    thumbnail: overlay ? await thumbnailOfUri(overlay.uri) : null,
    facts: entryFacts(model),
    ...ownOptions(setting),
  };
  if (folder !== null) await writeBatchRecord(folder, setting, entry, files);
  return entry;
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
