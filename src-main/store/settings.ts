import { done, type Outcome } from '../../src-shared/contract/failure.ts';
import { Settings, settingsAtFirst } from '../../src-shared/record/settings.ts';
import { bodyText, bodyValue, checked, fromRow } from './body.ts';
import type { Context } from './context.ts';

/** What the person chose for the whole program. Every choice is a further row; the latest counts. */
export interface SettingsRecord {
  /** The latest choice; `settingsAtFirst` before there is one, and for what could not be chosen then. */
  get(): Settings;
  save(settings: Settings): Outcome<Settings>;
}

/** The settings over a connection. */
export function createSettings({ database, change, wallNow }: Context): SettingsRecord {
  const add = database.prepare<[number, string]>('INSERT INTO setting (wall_ms, body) VALUES (?, ?)');
  const latest = database.prepare<[], string>('SELECT body FROM setting ORDER BY setting_id DESC LIMIT 1').pluck();
  return {
    get() {
      const chosen: unknown = bodyValue(latest.get() ?? '{}');
      return fromRow(Settings, Object.assign({}, settingsAtFirst, chosen), 'setting');
    },
    save: (input) =>
      change(() => {
        const settings = checked(Settings, input);
        if (!settings.ok) return settings;
        const body = bodyText(settings.value);
        if (!body.ok) return body;
        add.run(wallNow(), body.value);
        return done(settings.value);
      }),
  };
}
