import * as v from 'valibot';
import { between, note, recordId, wallMs, words } from './field.ts';

const minutes = (field: string) => between(0.1, 10_000, field);

/** What a project asks of a transformer. Volts and amps are those of the project: direct ones behind a rectifier. */
export const NeedFields = v.strictObject({
  label: words('Label', 60),
  volts: between(0.1, 1000, 'Volts'),
  amps: between(0.01, 10_000, 'Amps'),
  /** What the winding feeds: the load itself, or a rectifier with a capacitor behind it. Half-wave is no choice. */
  feeds: v.picklist(['ac', 'bridge', 'centre-tap'], 'It feeds alternating current, a bridge or a centre tap.'),
  powerFactor: v.optional(between(0.05, 1, 'Power factor')),
  use: v.variant('kind', [
    v.strictObject({ kind: v.literal('continuous') }),
    v.strictObject({
      kind: v.literal('on-off'),
      onMinutes: minutes('Minutes on'),
      offMinutes: minutes('Minutes off'),
    }),
  ]),
  ambientCelsius: v.optional(between(-30, 100, 'Room')),
  /** The circuit that is to feed it: its volts, hertz and the amps of its breaker. */
  circuit: v.optional(
    v.strictObject({
      volts: between(1, 1000, 'Volts of the circuit'),
      hertz: v.picklist([50, 60], 'Hertz of the circuit must be 50 or 60.'),
      amps: between(0.1, 1000, 'Amps of the circuit'),
    }),
  ),
  note: v.optional(note('Note')),
});
export type NeedFields = v.InferOutput<typeof NeedFields>;

/** A need as stored: its latest row. `retired`: this row takes it off the list; its fields stay. */
export const Need = v.strictObject({
  needId: recordId,
  revisionId: recordId,
  replaces: v.nullable(recordId),
  reason: v.nullable(v.string()),
  wallMs,
  retired: v.boolean(),
  fields: NeedFields,
});
export type Need = v.InferOutput<typeof Need>;
