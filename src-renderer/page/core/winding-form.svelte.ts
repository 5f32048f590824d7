import * as v from 'valibot';
import { awgDiameterMm, awgNumber, thickestAwg, thinnestAwg } from '../../../src-shared/quantity/awg.ts';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { WindingFields, type Winding } from '../../../src-shared/record/build.ts';
import {
  boundsOf,
  boxText,
  readMeasured,
  readQuantity,
  shownUnit,
  type Asked,
  type Read,
} from '../../part/read-quantity.ts';

const turnsBounds = boundsOf({ pipe: WindingFields.entries.turns.options[0].entries.turns.pipe[0].pipe });

/** What the boxes of the form ask. */
export const windingAsked = {
  turns: { name: 'Turns', unit: '', ...turnsBounds },
  bareDiameter: {
    name: 'Bare wire diameter',
    unit: 'mm',
    ...boundsOf(WindingFields.entries.bareDiameter.wrapped.entries.value),
  },
  ohms: { name: 'Resistance', unit: 'Ω', ...boundsOf(WindingFields.entries.ohms.wrapped.entries.value) },
  ohmsCelsius: {
    name: 'Temperature of the resistance',
    unit: '°C',
    ...boundsOf(WindingFields.entries.ohmsCelsius.wrapped),
  },
} as const satisfies Readonly<Record<string, Asked>>;

export type WindingFormKey = keyof typeof windingAsked | 'label' | 'note' | 'reason';
type Refusals = Partial<Record<WindingFormKey, string>>;
type Turns = WindingFields['turns'];

const gauge = /^(?:awg *(\d{1,2}|[1-4]\/0)|(\d{1,2}|[1-4]\/0) *awg)$/i;

/** The bare diameter in mm of a gauge as people write it, `17 AWG`; null when it is not written as one. */
export function diameterOfGauge(text: string): number | null {
  const match = gauge.exec(text.trim());
  const name = match?.[1] ?? match?.[2];
  if (name === undefined) return null;
  const number = name.includes('/') ? 1 - Number(name.charAt(0)) : awgNumber(Number(name));
  return number < thickestAwg || number > thinnestAwg ? null : Number(awgDiameterMm(number).toPrecision(6));
}

const text = v.string();
const typed = v.strictObject({ text, doubt: text });
const { role, metal, oneEndOnCore } = WindingFields.entries;

/** The boxes of the form as a reload brings them back. */
export const WindingBoxes = v.strictObject({
  label: text,
  role,
  turnsKind: v.picklist(['counted', 'estimated', 'unknown']),
  turns: text,
  turnsDoubt: text,
  metal,
  bareDiameter: typed,
  ohms: typed,
  ohmsCelsius: text,
  oneEndOnCore,
  onPlug: v.picklist(['yes', 'no']),
  note: text,
  reason: text,
});
export type WindingBoxes = v.InferOutput<typeof WindingBoxes>;

/** A winding as it stands in the form: the person's own texts. */
export class WindingForm {
  readonly system: UnitSystem;
  readonly before: Winding | null;
  label = $state('');
  role = $state<WindingFields['role']>('primary');
  turnsKind = $state<Turns['kind']>('unknown');
  turns = $state('');
  turnsDoubt = $state('');
  metal = $state<WindingFields['metal']>('not-known');
  bareDiameter = $state({ text: '', doubt: '' });
  ohms = $state({ text: '', doubt: '' });
  ohmsCelsius = $state('');
  oneEndOnCore = $state<WindingFields['oneEndOnCore']>('not-looked');
  onPlug = $state<'yes' | 'no'>('no');
  note = $state('');
  reason = $state('');
  refusals = $state.raw<Refusals>({});
  readonly #resultId: number | null = null;

  /** @param before - the winding to be corrected; null for a further one */
  constructor(system: UnitSystem, before: Winding | null, firstRole: WindingFields['role']) {
    this.system = system;
    this.before = before;
    this.role = firstRole;
    this.label = before === null && firstRole === 'primary' ? 'Primary' : '';
    this.onPlug = firstRole === 'primary' ? 'yes' : 'no';
    if (before === null) return;
    const { fields } = before;
    this.label = fields.label;
    this.role = fields.role;
    this.turnsKind = fields.turns.kind;
    if (fields.turns.kind === 'counted') this.turns = boxText(fields.turns.turns, '', system);
    if (fields.turns.kind === 'estimated') {
      this.turns = boxText(fields.turns.value, '', system);
      this.turnsDoubt = boxText(fields.turns.u, '', system);
      this.#resultId = fields.turns.resultId;
    }
    this.metal = fields.metal;
    this.bareDiameter = {
      text: boxText(fields.bareDiameter?.value, 'mm', system),
      doubt: boxText(fields.bareDiameter?.u ?? undefined, 'mm', system),
    };
    this.ohms = {
      text: boxText(fields.ohms?.value, 'Ω', system),
      doubt: boxText(fields.ohms?.u ?? undefined, 'Ω', system),
    };
    this.ohmsCelsius = boxText(fields.ohmsCelsius, '°C', system);
    this.oneEndOnCore = fields.oneEndOnCore;
    this.onPlug = fields.onPlug ? 'yes' : 'no';
    this.note = fields.note ?? '';
  }

  snapshot(): WindingBoxes {
    const { label, role, turnsKind, turns, turnsDoubt, metal, bareDiameter, ohms } = this;
    const { ohmsCelsius, oneEndOnCore, onPlug, note, reason } = this;
    const turnsBoxes = { turnsKind, turns, turnsDoubt };
    const words = { label, role, metal, ohmsCelsius, oneEndOnCore, onPlug, note, reason };
    return $state.snapshot({ ...words, ...turnsBoxes, bareDiameter, ohms });
  }

  restore(boxes: WindingBoxes): void {
    Object.assign(this, boxes);
  }

  get diameterUnit(): string {
    return shownUnit('mm', this.system);
  }

  /** The winding as the record takes it, or null with every refusal at its box. */
  read(): WindingFields | null {
    const refusals: Refusals = {};
    const take = <T>(key: WindingFormKey, read: Read<T>): T | undefined => {
      if (read.kind === 'refused') refusals[key] = read.message;
      return read.kind === 'value' ? read.value : undefined;
    };
    const turns = this.#readTurns(refusals);
    const bareDiameter = take('bareDiameter', this.#readDiameter());
    const ohms = take('ohms', readMeasured(this.ohms.text, this.ohms.doubt, windingAsked.ohms, this.system));
    const ohmsCelsius = take('ohmsCelsius', readQuantity(this.ohmsCelsius, windingAsked.ohmsCelsius, this.system));
    if (ohms !== undefined && ohmsCelsius === undefined) {
      refusals.ohmsCelsius ??= 'A resistance belongs to a temperature: type that of the winding, such as the room’s.';
    }
    // What this form does not ask is not forgotten by a correction.
    const { wire, strands, turnsAdded } = this.before?.fields ?? {};
    const parsed = v.safeParse(WindingFields, {
      ...(wire === undefined ? {} : { wire }),
      ...(strands === undefined ? {} : { strands }),
      ...(turnsAdded === undefined ? {} : { turnsAdded }),
      label: this.label,
      role: this.role,
      turns: turns ?? { kind: 'unknown' },
      metal: this.metal,
      ...(bareDiameter === undefined ? {} : { bareDiameter }),
      ...(ohms === undefined ? {} : { ohms }),
      ...(ohmsCelsius === undefined ? {} : { ohmsCelsius }),
      oneEndOnCore: this.oneEndOnCore,
      onPlug: this.onPlug === 'yes',
      ...(this.note.trim() === '' ? {} : { note: this.note.trim() }),
    });
    if (!parsed.success) {
      for (const issue of parsed.issues) put(refusals, v.getDotPath(issue) ?? '', issue.message);
    }
    if (this.label.trim() === '') refusals.label = 'Give it a name, such as “Primary” or “Secondary, inner half”.';
    if (this.before !== null && this.reason.trim() === '') {
      refusals.reason = 'Say in a few words why it is corrected, such as “counted while unwinding”.';
    }
    this.refusals = refusals;
    return parsed.success && Object.keys(refusals).length === 0 ? parsed.output : null;
  }

  /** Puts a refusal of the program at its box. True when there is one for it. */
  refuse(path: string, message: string): boolean {
    const refusals = { ...this.refusals };
    const isPlaced = put(refusals, path.replace(/^fields\./, ''), message);
    this.refusals = refusals;
    return isPlaced;
  }

  #readDiameter(): ReturnType<typeof readMeasured> {
    const { text, doubt } = this.bareDiameter;
    const byGauge = diameterOfGauge(text);
    if (byGauge === null) return readMeasured(text, doubt, windingAsked.bareDiameter, this.system);
    return { kind: 'value', value: { value: byGauge, u: null } };
  }

  #readTurns(refusals: Refusals): Turns | null {
    if (this.turnsKind === 'unknown') return { kind: 'unknown' };
    const read = readQuantity(this.turns, windingAsked.turns, this.system);
    if (read.kind === 'refused') refusals.turns = read.message;
    if (read.kind === 'absent') refusals.turns = 'Type the turns, or choose “Not known”.';
    if (read.kind !== 'value') return null;
    if (this.turnsKind === 'counted') {
      if (Number.isInteger(read.value * 2)) return { kind: 'counted', turns: read.value };
      refusals.turns = 'Counted turns are whole or half turns, such as 120 or 7.5. For a fraction choose “Estimated”.';
      return null;
    }
    const doubt = readQuantity(
      this.turnsDoubt,
      { ...windingAsked.turns, name: 'Give or take', lowest: 0 },
      this.system,
    );
    if (doubt.kind === 'refused') refusals.turns = doubt.message;
    if (doubt.kind === 'absent') refusals.turns = 'An estimate needs its give or take: how many turns it may be off.';
    return doubt.kind === 'value'
      ? { kind: 'estimated', value: read.value, u: doubt.value, resultId: this.#resultOf(read.value, doubt.value) }
      : null;
  }

  /** The result that the turns came from, as long as they are still those turns. */
  #resultOf(value: number, u: number): number | null {
    const turns = this.before?.fields.turns;
    return turns?.kind === 'estimated' && turns.value === value && turns.u === u ? this.#resultId : null;
  }
}

function put(refusals: Refusals, path: string, message: string): boolean {
  const [head] = path.split('.');
  const keys: readonly WindingFormKey[] = ['label', 'turns', 'bareDiameter', 'ohms', 'ohmsCelsius', 'note', 'reason'];
  const key = keys.find((name) => name === head);
  if (key !== undefined) refusals[key] ??= message;
  return key !== undefined;
}
