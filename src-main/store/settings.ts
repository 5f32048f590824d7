import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { Settings } from '../../src-shared/record/settings.ts';

/** What the person chose for the whole program. Every choice is a further row; the latest counts. */
export interface SettingsRecord {
  /** The latest choice; `settingsAtFirst` before there is one. */
  get(): Settings;
  save(settings: Settings): Outcome<Settings>;
}
