import * as v from 'valibot';
import { between, measured, note, recordId, wallMs, words } from './field.ts';

/** What a lamination stack looks like; `unknown` is drawn as an outline only. */
const coreShapes = ['shell', 'two-limb', 'toroid', 'unknown'] as const;

/** Cores that are invented, for practice. */
const demonstrationIds = ['dimmer-a', 'dimmer-b'] as const;
export type DemonstrationId = (typeof demonstrationIds)[number];

/** What the person says of one lamination stack on the shelf. Lengths in mm, mass in kg, absent when not measured. */
export const CoreFields = v.strictObject({
  label: words('Label', 60),
  origin: v.optional(note('Where it came from', 200)),
  shape: v.picklist(coreShapes, 'Shape must be shell, two-limb, toroid or unknown.'),
  fromAppliance: v.optional(v.boolean('From an appliance must be yes or no.')),
  mass: v.optional(measured(0.01, 500, 'Mass')),
  /** Mass means little when windings are already out: it is of the transformer as pulled, or it is not. */
  massIs: v.optional(v.picklist(['as-pulled', 'stripped'], 'Mass must be as pulled or stripped.')),
  tongue: v.optional(measured(1, 500, 'Tongue width')),
  stack: v.optional(measured(1, 1000, 'Stack height')),
  windowWidth: v.optional(measured(1, 500, 'Window width')),
  windowHeight: v.optional(measured(1, 1000, 'Window height')),
  stackingFactor: v.optional(between(0.5, 1, 'Stacking factor')),
  fromVolts: v.optional(between(1, 1000, 'Volts it came from')),
  fromHertz: v.optional(v.picklist([50, 60], 'Hertz it came from must be 50 or 60.')),
  note: v.optional(note('Note')),
  /** The core is invented: every session on it is practice, for good. Absent for a core that exists. */
  demonstration: v.optional(v.picklist(demonstrationIds, 'There is no such demonstration core.')),
});
export type CoreFields = v.InferOutput<typeof CoreFields>;

/** A core as stored: its fields, which row holds them, and the row that this one corrects. */
export const Core = v.strictObject({
  coreId: recordId,
  revisionId: recordId,
  replaces: v.nullable(recordId),
  reason: v.nullable(v.string()),
  wallMs,
  fields: CoreFields,
});
export type Core = v.InferOutput<typeof Core>;
