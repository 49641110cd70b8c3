import { join } from 'node:path';
import { type BatchSetting, type EarlierWork, type RecordedEntry, readBatchRecord } from '../../node.js';
import type { BatchWords } from './batch-words.js';
import { lastingOptions, optionsOf, typedOptions } from './own-options.js';
import type { PhotoTask } from './photo-task.js';
import type { Place } from './places.js';

/** What of a batch an earlier run has done, and what is left to do. */
export interface BatchPlan {
  readonly done: readonly {
    readonly place: Place;
    /** Path of its folder. */
    readonly target: string;
    readonly entry: RecordedEntry;
  }[];
  readonly tasks: readonly { readonly place: Place; readonly task: PhotoTask }[];
  /** What a person should know of it, a line each. */
  readonly notes: readonly string[];
}

const NEW: EarlierWork = { own: null, lost: null, entry: null };

/** Looks what each photo's folder says; `folder` null: nothing is written, so all is to be done. */
export async function planBatch(
  places: readonly Place[],
  folder: string | null,
  words: BatchWords,
  version: string,
): Promise<BatchPlan> {
  const all = lastingOptions(words);
  const settingOf = (own: BatchSetting['own'] = null): BatchSetting => ({
    program: version,
    options: optionsOf(all, own),
    own,
  });
  const plan = {
    done: [] as BatchPlan['done'][number][],
    tasks: [] as BatchPlan['tasks'][number][],
    notes: [] as string[],
  };
  for (const place of places) {
    const target = folder === null ? null : join(folder, place.name);
    const { own, lost, entry } = target ? await readBatchRecord(target, settingOf, place.photo) : NEW;
    if (lost !== null) {
      plan.notes.push(
        `${place.photo} is another photo now: measured like all the others, without ${typedOptions(lost)}, which was for the former one`,
      );
    }
    if (target !== null && entry !== null) {
      plan.done.push({ place, target, entry });
      continue;
    }
    const task = {
      photo: place.photo,
      folder: target,
      words: optionsOf(all, own),
      setting: settingOf(own),
      wantsModel: words.json === true,
    };
    plan.tasks.push({ place, task });
  }
  return plan;
}
