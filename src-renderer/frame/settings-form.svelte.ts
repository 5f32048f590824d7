import * as v from 'valibot';
import { Settings } from '../../src-shared/record/settings.ts';
import { parseIn } from '../part/read-quantity.ts';

type Key = 'who' | 'mainsVolts';

/** The settings as they stand in the form: the person's own texts until they are read. */
export class SettingsForm {
  units = $state<Settings['units']>('metric');
  theme = $state<Settings['theme']>('system');
  mainsVolts = $state('');
  mainsHertz = $state<Settings['mainsHertz']>(50);
  who = $state('');
  sound = $state(true);
  refusals = $state.raw<Partial<Record<Key, string>>>({});

  constructor(settings: Settings) {
    this.units = settings.units;
    this.theme = settings.theme;
    this.mainsVolts = String(settings.mainsVolts);
    this.mainsHertz = settings.mainsHertz;
    this.who = settings.who;
    this.sound = settings.sound;
  }

  /** The settings, or null with every refusal at its field. */
  read(): Settings | null {
    const volts = parseIn(this.mainsVolts, 'V');
    const refusals: Partial<Record<Key, string>> = {};
    if (!volts.ok || volts.value < 50 || volts.value > 500) {
      refusals.mainsVolts = 'Mains volts must be a number from 50 to 500, such as 230.';
    }
    if (this.who.trim() === '') refusals.who = 'Type the name that your records shall carry. Initials will do.';
    else if (this.who.length > 60) refusals.who = 'The name must be at most 60 characters.';
    this.refusals = refusals;
    const parsed = v.safeParse(Settings, {
      units: this.units,
      theme: this.theme,
      mainsVolts: volts.ok ? volts.value : Number.NaN,
      mainsHertz: this.mainsHertz,
      who: this.who.trim(),
      sound: this.sound,
    });
    return parsed.success && Object.keys(refusals).length === 0 ? parsed.output : null;
  }
}
