import * as v from 'valibot';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { CoreFields, type Core } from '../../../src-shared/record/core.ts';
import { boundsOf, boxText, readMeasured, readQuantity, type Asked, type Read } from '../../part/read-quantity.ts';

const measuredBounds = (name: 'mass' | 'tongue' | 'stack' | 'windowWidth' | 'windowHeight') =>
  boundsOf(CoreFields.entries[name].wrapped.entries.value);

/** What the boxes of the form ask. */
export const coreAsked = {
  mass: { name: 'Mass', unit: 'kg', ...measuredBounds('mass') },
  tongue: { name: 'Tongue width', unit: 'mm', ...measuredBounds('tongue') },
  stack: { name: 'Stack height', unit: 'mm', ...measuredBounds('stack') },
  windowWidth: { name: 'Window width', unit: 'mm', ...measuredBounds('windowWidth') },
  windowHeight: { name: 'Window height', unit: 'mm', ...measuredBounds('windowHeight') },
  fromVolts: { name: 'Volts it came from', unit: 'V', ...boundsOf(CoreFields.entries.fromVolts.wrapped) },
} as const satisfies Readonly<Record<string, Asked>>;

const lengths = ['tongue', 'stack', 'windowWidth', 'windowHeight'] as const;
type Length = (typeof lengths)[number];

/** A value and its give-or-take, as typed. */
interface Typed {
  text: string;
  doubt: string;
}

export type CoreFormKey = keyof typeof coreAsked | 'label' | 'origin' | 'note' | 'reason' | 'shape';
type Refusals = Partial<Record<CoreFormKey, string>>;

const text = v.string();
const typed = v.strictObject({ text, doubt: text });

/** The boxes of the form as a reload brings them back. */
export const CoreBoxes = v.strictObject({
  label: text,
  origin: text,
  shape: CoreFields.entries.shape,
  fromAppliance: v.picklist(['yes', 'no']),
  mass: typed,
  massIs: CoreFields.entries.massIs.wrapped,
  lengths: v.strictObject({ tongue: typed, stack: typed, windowWidth: typed, windowHeight: typed }),
  fromVolts: text,
  fromHertz: v.picklist(['50', '60', 'not-known']),
  note: text,
  reason: text,
});
export type CoreBoxes = v.InferOutput<typeof CoreBoxes>;

/** A core as it stands in the form: the person's own texts, in the units chosen when the form was opened. */
export class CoreForm {
  readonly system: UnitSystem;
  readonly before: Core | null;
  label = $state('');
  origin = $state('');
  shape = $state<CoreFields['shape']>('shell');
  fromAppliance = $state<'yes' | 'no'>('no');
  mass = $state<Typed>({ text: '', doubt: '' });
  massIs = $state<'as-pulled' | 'stripped'>('as-pulled');
  lengths = $state<Record<Length, Typed>>({
    tongue: { text: '', doubt: '' },
    stack: { text: '', doubt: '' },
    windowWidth: { text: '', doubt: '' },
    windowHeight: { text: '', doubt: '' },
  });
  fromVolts = $state('');
  fromHertz = $state<'50' | '60' | 'not-known'>('not-known');
  note = $state('');
  reason = $state('');
  refusals = $state.raw<Refusals>({});

  /** @param before - the core to be corrected; null for a new one */
  constructor(system: UnitSystem, before: Core | null) {
    this.system = system;
    this.before = before;
    if (before === null) return;
    const { fields } = before;
    const typed = (known: CoreFields['mass'], unit: string): Typed => ({
      text: boxText(known?.value, unit, system),
      doubt: boxText(known?.u ?? undefined, unit, system),
    });
    this.label = fields.label;
    this.origin = fields.origin ?? '';
    this.shape = fields.shape;
    this.fromAppliance = fields.fromAppliance === true ? 'yes' : 'no';
    this.mass = typed(fields.mass, 'kg');
    this.massIs = fields.massIs ?? 'as-pulled';
    for (const name of lengths) this.lengths[name] = typed(fields[name], 'mm');
    this.fromVolts = boxText(fields.fromVolts, 'V', system);
    this.fromHertz = fields.fromHertz === undefined ? 'not-known' : fields.fromHertz === 50 ? '50' : '60';
    this.note = fields.note ?? '';
  }

  snapshot(): CoreBoxes {
    const { label, origin, shape, fromAppliance, massIs, fromVolts, fromHertz, note, reason } = this;
    const words = { label, origin, shape, fromAppliance, massIs, fromVolts, fromHertz, note, reason };
    return $state.snapshot({ ...words, mass: this.mass, lengths: this.lengths });
  }

  restore(boxes: CoreBoxes): void {
    Object.assign(this, boxes);
  }

  /** What can be read of the form at this moment, for the drawing; what cannot counts as not measured. */
  get soFar(): CoreFields {
    return this.#gather().fields;
  }

  /** The core as the record takes it, or null with every refusal at its box. */
  read(): CoreFields | null {
    const { fields, refusals } = this.#gather();
    const parsed = v.safeParse(CoreFields, fields);
    if (!parsed.success) {
      for (const issue of parsed.issues) this.#put(refusals, v.getDotPath(issue) ?? '', issue.message);
    }
    if (this.before !== null && this.reason.trim() === '') {
      refusals.reason = 'Say in a few words why it is corrected, such as “measured again with a caliper”.';
    }
    this.refusals = refusals;
    return parsed.success && Object.keys(refusals).length === 0 ? parsed.output : null;
  }

  /** Puts a refusal of the program at its box. True when there is one for it. */
  refuse(path: string, message: string): boolean {
    const refusals = { ...this.refusals };
    const isPlaced = this.#put(refusals, path.replace(/^fields\./, ''), message);
    this.refusals = refusals;
    return isPlaced;
  }

  #put(refusals: Refusals, path: string, message: string): boolean {
    const [head] = path.split('.');
    const keys: readonly CoreFormKey[] = [
      'label',
      'origin',
      'note',
      'reason',
      'shape',
      'mass',
      ...lengths,
      'fromVolts',
    ];
    const key = keys.find((name) => name === head);
    if (key !== undefined) refusals[key] ??= message;
    return key !== undefined;
  }

  #gather(): { readonly fields: CoreFields; readonly refusals: Refusals } {
    const refusals: Refusals = {};
    const take = <T>(key: CoreFormKey, read: Read<T>): T | undefined => {
      if (read.kind === 'refused') refusals[key] = read.message;
      return read.kind === 'value' ? read.value : undefined;
    };
    const mass = take('mass', readMeasured(this.mass.text, this.mass.doubt, coreAsked.mass, this.system));
    const fromVolts = take('fromVolts', readQuantity(this.fromVolts, coreAsked.fromVolts, this.system));
    const fields: CoreFields = {
      label: this.label,
      shape: this.shape,
      fromAppliance: this.fromAppliance === 'yes',
      ...(this.origin.trim() === '' ? {} : { origin: this.origin.trim() }),
      ...(mass === undefined ? {} : { mass, massIs: this.massIs }),
      ...(fromVolts === undefined ? {} : { fromVolts }),
      ...(this.fromHertz === 'not-known' ? {} : { fromHertz: this.fromHertz === '50' ? 50 : 60 }),
      ...(this.note.trim() === '' ? {} : { note: this.note.trim() }),
    };
    for (const name of lengths) {
      if (name === 'windowHeight' && this.shape === 'toroid') continue;
      const { text, doubt } = this.lengths[name];
      const value = take(name, readMeasured(text, doubt, coreAsked[name], this.system));
      if (value !== undefined) fields[name] = value;
    }
    return { fields, refusals };
  }
}
