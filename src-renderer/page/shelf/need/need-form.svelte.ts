import * as v from 'valibot';
import type { UnitSystem } from '../../../../src-shared/quantity/unit.ts';
import { NeedFields, type Need } from '../../../../src-shared/record/need.ts';
import { boundsOf, boxText, readQuantity, type Asked } from '../../../part/read-quantity.ts';

const { volts, amps, powerFactor, ambientCelsius, circuit, use } = NeedFields.entries;
const [, onOff] = use.options;

/** What the boxes of the form ask. */
const needAsked = {
  volts: { name: 'Volts', unit: 'V', ...boundsOf(volts) },
  amps: { name: 'Amps', unit: 'A', ...boundsOf(amps) },
  powerFactor: { name: 'Power factor', unit: '', ...boundsOf(powerFactor.wrapped) },
  onMinutes: { name: 'Minutes on', unit: 'min', ...boundsOf(onOff.entries.onMinutes) },
  offMinutes: { name: 'Minutes off', unit: 'min', ...boundsOf(onOff.entries.offMinutes) },
  ambientCelsius: { name: 'Room', unit: '°C', ...boundsOf(ambientCelsius.wrapped) },
  circuitVolts: { name: 'Volts of the circuit', unit: 'V', ...boundsOf(circuit.wrapped.entries.volts) },
  circuitAmps: { name: 'Amps of the circuit', unit: 'A', ...boundsOf(circuit.wrapped.entries.amps) },
} as const satisfies Readonly<Record<string, Asked>>;

type NumberKey = keyof typeof needAsked;
const numberKeys: readonly NumberKey[] = [
  'volts',
  'amps',
  'powerFactor',
  'onMinutes',
  'offMinutes',
  'ambientCelsius',
  'circuitVolts',
  'circuitAmps',
];
type NeedFormKey = NumberKey | 'label' | 'note' | 'reason';
const formKeys: readonly NeedFormKey[] = [...numberKeys, 'label', 'note', 'reason'];
type Refusals = Partial<Record<NeedFormKey, string>>;

/** Where the record says it otherwise than the boxes do. */
const boxes: Readonly<Record<string, NeedFormKey>> = {
  label: 'label',
  note: 'note',
  reason: 'reason',
  volts: 'volts',
  amps: 'amps',
  powerFactor: 'powerFactor',
  'use.onMinutes': 'onMinutes',
  'use.offMinutes': 'offMinutes',
  ambientCelsius: 'ambientCelsius',
  'circuit.volts': 'circuitVolts',
  'circuit.amps': 'circuitAmps',
};

const text = v.string();

/** The boxes of the form as a reload brings them back. */
export const NeedBoxes = v.strictObject({
  label: text,
  feeds: NeedFields.entries.feeds,
  use: v.picklist(['continuous', 'on-off']),
  texts: v.strictObject({
    volts: text,
    amps: text,
    powerFactor: text,
    onMinutes: text,
    offMinutes: text,
    ambientCelsius: text,
    circuitVolts: text,
    circuitAmps: text,
  }),
  hertz: v.picklist(['50', '60']),
  note: text,
  reason: text,
});
export type NeedBoxes = v.InferOutput<typeof NeedBoxes>;

/** A need as it stands in the form: the person's own texts, in the units chosen when the form was opened. */
export class NeedForm {
  readonly system: UnitSystem;
  readonly before: Need | null;
  label = $state('');
  feeds = $state<NeedFields['feeds']>('ac');
  use = $state<NeedFields['use']['kind']>('continuous');
  texts = $state<Record<NumberKey, string>>({
    volts: '',
    amps: '',
    powerFactor: '',
    onMinutes: '',
    offMinutes: '',
    ambientCelsius: '',
    circuitVolts: '',
    circuitAmps: '',
  });
  hertz = $state<'50' | '60'>('50');
  note = $state('');
  reason = $state('');
  #refusals = $state.raw<Refusals>({});
  /** What stood in the boxes when they were refused. */
  #refusedTexts = $state.raw<Partial<Record<NeedFormKey, string>>>({});
  /** The line as it stood there at the start. */
  readonly #mains: { readonly volts: string; readonly hertz: '50' | '60' };

  /** @param before - the need to be corrected; null for a new one, which begins with the mains of the workshop */
  constructor(system: UnitSystem, before: Need | null, mains: { readonly volts: number; readonly hertz: 50 | 60 }) {
    this.system = system;
    this.before = before;
    this.hertz = mains.hertz === 50 ? '50' : '60';
    this.#mains = { volts: boxText(mains.volts, 'V', system), hertz: this.hertz };
    if (before?.fields.circuit === undefined) this.texts.circuitVolts = this.#mains.volts;
    if (before === null) return;
    const { fields } = before;
    const known: Readonly<Record<NumberKey, number | undefined>> = {
      volts: fields.volts,
      amps: fields.amps,
      powerFactor: fields.powerFactor,
      onMinutes: fields.use.kind === 'on-off' ? fields.use.onMinutes : undefined,
      offMinutes: fields.use.kind === 'on-off' ? fields.use.offMinutes : undefined,
      ambientCelsius: fields.ambientCelsius,
      circuitVolts: fields.circuit?.volts,
      circuitAmps: fields.circuit?.amps,
    };
    this.label = fields.label;
    this.feeds = fields.feeds;
    this.use = fields.use.kind;
    for (const key of numberKeys) {
      if (known[key] !== undefined) this.texts[key] = boxText(known[key], needAsked[key].unit, system);
    }
    if (fields.circuit !== undefined) this.hertz = fields.circuit.hertz === 50 ? '50' : '60';
    this.note = fields.note ?? '';
  }

  snapshot(): NeedBoxes {
    const { label, feeds, use, texts, hertz, note, reason } = this;
    return $state.snapshot({ label, feeds, use, texts, hertz, note, reason });
  }

  restore(boxes: NeedBoxes): void {
    Object.assign(this, boxes);
  }

  /** What is wrong with the boxes; that of a box goes as soon as something else is typed into it. */
  get refusals(): Refusals {
    const standing = Object.entries(this.#refusals).filter(([key]) => {
      const known = formKeys.find((each) => each === key);
      return known !== undefined && this.#refusedTexts[known] === this.#textOf(known);
    });
    return Object.fromEntries(standing);
  }

  /** Volts, amps and what they feed, as far as they can be read: for the line that says what they come to. */
  get soFar(): Pick<NeedFields, 'volts' | 'amps' | 'feeds'> | null {
    const [volts, amps] = [this.#read('volts'), this.#read('amps')];
    return volts.kind === 'value' && amps.kind === 'value'
      ? { volts: volts.value, amps: amps.value, feeds: this.feeds }
      : null;
  }

  /** The need as the record takes it, or null with every refusal at its box. */
  read(): NeedFields | null {
    const refusals: Refusals = {};
    const numbers: Partial<Record<NumberKey, number>> = {};
    for (const key of numberKeys) {
      if (!this.#isAsked(key)) continue;
      const read = this.#read(key);
      if (read.kind === 'refused') refusals[key] = read.message;
      if (read.kind === 'value') numbers[key] = read.value;
    }
    this.#sayWhatIsMissing(numbers, refusals);
    const parsed = v.safeParse(NeedFields, this.#gather(numbers));
    if (!parsed.success) {
      for (const issue of parsed.issues) put(refusals, v.getDotPath(issue) ?? '', issue.message);
    }
    if (this.label.trim() === '') refusals.label = 'Give it a name, such as “Foam cutters”.';
    if (this.before !== null && this.reason.trim() === '') {
      refusals.reason = 'Say in a few words why it is corrected, such as “two cutters at a time”.';
    }
    this.#refuseAll(refusals);
    return parsed.success && Object.keys(refusals).length === 0 ? parsed.output : null;
  }

  /** Puts a refusal of the program at its box. True when there is one for it. */
  refuse(path: string, message: string): boolean {
    const refusals = { ...this.#refusals };
    const isPlaced = put(refusals, path.replace(/^fields\./, ''), message);
    this.#refuseAll(refusals);
    return isPlaced;
  }

  #textOf(key: NeedFormKey): string {
    return key === 'label' || key === 'note' || key === 'reason' ? this[key] : this.texts[key];
  }

  #refuseAll(refusals: Refusals): void {
    this.#refusals = refusals;
    this.#refusedTexts = Object.fromEntries(formKeys.map((key) => [key, this.#textOf(key)]));
  }

  #read(key: NumberKey): ReturnType<typeof readQuantity> {
    return readQuantity(this.texts[key], needAsked[key], this.system);
  }

  #isAsked(key: NumberKey): boolean {
    if (key === 'powerFactor') return this.feeds === 'ac';
    return key === 'onMinutes' || key === 'offMinutes' ? this.use === 'on-off' : true;
  }

  #sayWhatIsMissing(numbers: Partial<Record<NumberKey, number>>, refusals: Refusals): void {
    const miss = (key: NumberKey, message: string): void => {
      if (numbers[key] === undefined) refusals[key] ??= message;
    };
    miss('volts', 'Type the volts that the load wants.');
    miss('amps', 'Type the amps that the load draws at most.');
    if (this.use === 'on-off') {
      miss('onMinutes', 'Type how long it stays on, or choose “For hours”.');
      miss('offMinutes', 'Type how long it rests before it comes on again.');
    }
    if (numbers.circuitAmps !== undefined) {
      miss('circuitVolts', 'Type the volts of the circuit; its amps are there.');
    } else if (this.texts.circuitVolts.trim() !== this.#mains.volts || this.hertz !== this.#mains.hertz) {
      miss(
        'circuitAmps',
        `Another line than the workshop’s: type the amps of its breaker, or go back to ${this.#mains.volts} V ${this.#mains.hertz} Hz.`,
      );
    }
  }

  #gather(numbers: Partial<Record<NumberKey, number>>): unknown {
    const { volts, amps, powerFactor, onMinutes, offMinutes, ambientCelsius, circuitVolts, circuitAmps } = numbers;
    return {
      label: this.label,
      volts: volts ?? 1,
      amps: amps ?? 1,
      feeds: this.feeds,
      ...(powerFactor === undefined ? {} : { powerFactor }),
      use:
        this.use === 'continuous'
          ? { kind: 'continuous' }
          : { kind: 'on-off', onMinutes: onMinutes ?? 1, offMinutes: offMinutes ?? 1 },
      ...(ambientCelsius === undefined ? {} : { ambientCelsius }),
      // Volts alone stand there from the start; the amps of its breaker make a circuit of them.
      ...(circuitAmps === undefined
        ? {}
        : { circuit: { volts: circuitVolts ?? 1, hertz: this.hertz === '50' ? 50 : 60, amps: circuitAmps } }),
      ...(this.note.trim() === '' ? {} : { note: this.note.trim() }),
    };
  }
}

function put(refusals: Refusals, path: string, message: string): boolean {
  const key = boxes[path];
  if (key !== undefined) refusals[key] ??= message;
  return key !== undefined;
}
