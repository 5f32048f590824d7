import * as v from 'valibot';
import { between } from './field.ts';

/** What the person chose for the whole program. */
export const Settings = v.strictObject({
  units: v.picklist(['metric', 'us'], 'Units must be metric or us.'),
  theme: v.picklist(['system', 'light', 'dark'], 'Theme must be system, light or dark.'),
  mainsVolts: between(50, 500, 'Mains volts'),
  mainsHertz: v.picklist([50, 60], 'Mains hertz must be 50 or 60.'),
  who: v.pipe(v.string(), v.maxLength(60, 'Name must be at most 60 characters.')),
  sound: v.boolean('Sound must be on or off.'),
});
export type Settings = v.InferOutput<typeof Settings>;

export const settingsAtFirst: Settings = {
  units: 'metric',
  theme: 'system',
  mainsVolts: 230,
  mainsHertz: 50,
  who: '',
  sound: true,
};
