import type { PortInfo } from '../../../src-shared/contract/meter-view.ts';
import type { PortSearch } from '../../../src-shared/contract/push.ts';
import type { Correction } from '../../../src-shared/meter/correction.ts';
import { readDescription, type MeterDescription, type SerialMeter } from '../../../src-shared/meter/description.ts';
import type { DecimalMark } from '../../../src-shared/meter/decimal-mark.ts';
import type { BareUnit, Encoding, LineFormat } from '../../../src-shared/meter/line-format.ts';
import { usualPortSettings, type PortSettings } from '../../../src-shared/meter/port-settings.ts';
import type { Sample } from '../../../src-shared/meter/sample.ts';
import { carriesCoupling, type Coupling, type MeterUnit } from '../../../src-shared/meter/unit.ts';
import { AccuracyForm } from './accuracy-form.svelte.ts';
import type { MeterBoxes } from './meter-boxes.ts';
import { TalkForm } from './talk-form.svelte.ts';
import { boxed, typedMs, typedNumber } from './typed-number.ts';
import { ValuesForm } from './values-form.svelte.ts';

/** The settings that a search found, as its last push tells them. */
type Found = Extract<NonNullable<PortSearch['outcome']>, { kind: 'heard' }>;

/** A meter as it stands in the form: the person's own texts. */
export class MeterForm {
  readonly meterId: number | null;
  label = $state('');
  kind = $state<MeterDescription['kind']>('serial');
  portPath = $state('');
  baudRate = $state<PortSettings['baudRate']>(usualPortSettings.baudRate);
  dataBits = $state<PortSettings['dataBits']>(usualPortSettings.dataBits);
  parity = $state<PortSettings['parity']>(usualPortSettings.parity);
  stopBits = $state<PortSettings['stopBits']>(usualPortSettings.stopBits);
  dtr = $state(true);
  rts = $state(true);
  encoding = $state<Encoding>('ascii');
  decimal = $state<DecimalMark>('point');
  grammar = $state<LineFormat['grammar']>('generic');
  pattern = $state('');
  bareUnit = $state<MeterUnit | 'none'>('none');
  bareCoupling = $state<Coupling | 'none'>('none');
  barePower = $state<NonNullable<BareUnit['powerOfTen']>>(0);
  responding = $state<MeterDescription['responding']>('unknown');
  maxVolts = $state('');
  category = $state('');
  /** Of a practice meter alone; empty for the usual one. */
  crestFactor = $state('');
  linkIsolated = $state<SerialMeter['linkIsolated']>('unknown');
  interval = $state('0.5');
  /** Lines as they once came; null when none are kept. */
  sample = $state.raw<Sample | null>(null);
  corrections = $state.raw<readonly Correction[]>([]);
  readonly talk = new TalkForm();
  readonly values = new ValuesForm();
  readonly accuracy = new AccuracyForm();
  reason = $state('');
  /** What is wrong, by the path in the description. */
  refusals = $state.raw<Readonly<Record<string, string>>>({});
  #identity: { readonly path: string; readonly identity: string | null } | null = null;
  readonly #before: MeterDescription | null;

  constructor(before: { readonly meterId: number; readonly description: MeterDescription } | null) {
    this.meterId = before?.meterId ?? null;
    this.#before = before?.description ?? null;
    if (before === null) return;
    const { description } = before;
    this.label = description.label;
    this.kind = description.kind;
    this.responding = description.responding;
    this.maxVolts = description.maxVolts === null ? '' : boxed(description.maxVolts);
    this.category = description.category ?? '';
    this.interval = boxed(description.typicalIntervalMs / 1000);
    this.accuracy.take(description);
    this.corrections = description.corrections ?? [];
    if (description.kind === 'serial') this.#takeSerial(description);
    if (description.kind === 'practice' && description.crestFactor !== undefined)
      this.crestFactor = boxed(description.crestFactor);
  }

  snapshot(): MeterBoxes {
    const { label, kind, portPath, baudRate, dataBits, parity, stopBits, dtr, rts } = this;
    const { encoding, decimal, grammar, pattern, bareUnit, bareCoupling, barePower } = this;
    const { responding, maxVolts, category, crestFactor, linkIsolated, interval, sample, reason } = this;
    return {
      ...{ label, kind, portPath, baudRate, dataBits, parity, stopBits, dtr, rts },
      ...{ encoding, decimal, grammar, pattern, bareUnit, bareCoupling, barePower },
      ...{ responding, maxVolts, category, crestFactor, linkIsolated, interval, sample, reason },
      identity: this.#identity,
      corrections: [...this.corrections],
      talk: this.talk.snapshot(),
      values: this.values.snapshot(),
      accuracy: this.accuracy.snapshot(),
    };
  }

  restore({ talk, values, accuracy, identity, ...boxes }: MeterBoxes): void {
    Object.assign(this, boxes);
    this.#identity = identity;
    this.talk.restore(talk);
    this.values.restore(values);
    this.accuracy.restore(accuracy);
  }

  /** The port was picked from the list: its lasting name is kept with it. */
  pickPort({ path, identity }: PortInfo): void {
    this.portPath = path;
    this.#identity = { path, identity };
  }

  /** The settings that were heard on the port. */
  takeFound({ settings, encoding, decimal }: Found): void {
    this.baudRate = settings.baudRate;
    this.dataBits = settings.dataBits;
    this.parity = settings.parity;
    this.stopBits = settings.stopBits;
    this.dtr = settings.dtr;
    this.rts = settings.rts;
    this.encoding = encoding;
    this.decimal = decimal;
  }

  /** A range is not there any more: corrections follow their ranges. */
  removeRange(id: number): void {
    const index = this.accuracy.ranges.findIndex((row) => row.id === id);
    this.accuracy.ranges = this.accuracy.ranges.filter((row) => row.id !== id);
    this.corrections = this.corrections
      .filter(({ rangeIndex }) => rangeIndex !== index)
      .map((one) => (one.rangeIndex > index ? { ...one, rangeIndex: one.rangeIndex - 1 } : one));
  }

  /** Uses a correction, in the place of an earlier one of its range. */
  useCorrection(correction: Correction): void {
    const others = this.corrections.filter(({ rangeIndex }) => rangeIndex !== correction.rangeIndex);
    this.corrections = [...others, correction];
  }

  /** The description, or null with every refusal at its place. */
  read(): MeterDescription | null {
    return this.#judge(this.#gather());
  }

  /** Enough of a description to listen on its port: accuracy and ratings may still be missing. */
  readForTrial(): MeterDescription | null {
    const label = this.label.trim() === '' ? 'Meter on trial' : this.label;
    const { corrections: _, ...gathered } = this.#gather();
    return this.#judge({ ...gathered, label, ranges: [], scales: [], maxVolts: null, category: null });
  }

  /** The same without a word about what is wrong: for what is shown while it is typed. Null while it cannot be read. */
  peek(): SerialMeter | null {
    const read = readDescription({
      ...this.#gather(),
      label: 'Meter',
      ranges: [],
      corrections: [],
      scales: [],
      maxVolts: null,
      category: null,
      typicalIntervalMs: 500,
      ...(this.portPath.trim() === '' ? { port: { ...usualPortSettings, path: 'none yet' } } : {}),
      talk: { mode: 'listen' },
    });
    return read.ok && read.description.kind === 'serial' ? read.description : null;
  }

  /** Puts a refusal of the program at its place. True when there is a place for it. */
  refuse(path: string, message: string): boolean {
    const place = path.replace(/^description\./, '');
    this.refusals = { ...this.refusals, [place]: message };
    return path.startsWith('description.');
  }

  #judge(input: object): MeterDescription | null {
    const read = readDescription(input);
    if (read.ok) {
      this.refusals = {};
      return read.description;
    }
    this.refusals = Object.fromEntries(read.refusals.toReversed().map(({ path, message }) => [path, message]));
    return null;
  }

  #gather() {
    const common = {
      label: this.label,
      responding: this.responding,
      ...this.accuracy.gather(),
      ...(this.corrections.length === 0 ? {} : { corrections: [...this.corrections] }),
      maxVolts: this.maxVolts.trim() === '' ? null : typedNumber(this.maxVolts),
      category: this.category.trim() === '' ? null : this.category,
      typicalIntervalMs: typedMs(this.interval),
    };
    switch (this.kind) {
      case 'keyboard':
        return { kind: 'keyboard', ...common };
      case 'practice': {
        const before = this.#before?.kind === 'practice' ? this.#before : null;
        const { unit = 'V', coupling = 'ac' } = before ?? {};
        const crest = this.crestFactor.trim() === '' ? {} : { crestFactor: typedNumber(this.crestFactor) };
        return { kind: 'practice', ...common, unit, coupling, ...crest };
      }
      case 'serial':
        return { kind: 'serial', ...common, ...this.#gatherSerial() };
    }
  }

  #gatherSerial() {
    const path = this.portPath.trim();
    return {
      port: {
        path,
        identity: this.#identity?.path === path ? this.#identity.identity : null,
        baudRate: this.baudRate,
        dataBits: this.dataBits,
        parity: this.parity,
        stopBits: this.stopBits,
        dtr: this.dtr,
        rts: this.rts,
      },
      talk: this.talk.gather(),
      format: {
        grammar: this.grammar,
        encoding: this.encoding,
        decimal: this.decimal,
        ...(this.grammar === 'pattern' ? { pattern: this.pattern } : {}),
      },
      values: this.values.gather(),
      bareUnit: this.bareUnit === 'none' ? null : this.#bare(this.bareUnit),
      linkIsolated: this.linkIsolated,
      ...(this.sample === null ? {} : { sample: this.sample }),
    };
  }

  #bare(unit: MeterUnit): BareUnit {
    return {
      unit,
      coupling: this.bareCoupling === 'none' || !carriesCoupling(unit) ? null : this.bareCoupling,
      ...(this.barePower === 0 ? {} : { powerOfTen: this.barePower }),
    };
  }

  #takeSerial(description: SerialMeter): void {
    const { port, format, bareUnit } = description;
    this.portPath = port.path;
    this.#identity = { path: port.path, identity: port.identity };
    this.baudRate = port.baudRate;
    this.dataBits = port.dataBits;
    this.parity = port.parity;
    this.stopBits = port.stopBits;
    this.dtr = port.dtr;
    this.rts = port.rts;
    this.talk.take(description.talk);
    this.encoding = format.encoding;
    this.decimal = format.decimal;
    this.grammar = format.grammar;
    if (format.grammar === 'pattern') this.pattern = format.pattern;
    this.values.take(description.values);
    this.bareUnit = bareUnit?.unit ?? 'none';
    this.bareCoupling = bareUnit?.coupling ?? 'none';
    this.barePower = bareUnit?.powerOfTen ?? 0;
    this.linkIsolated = description.linkIsolated;
    this.sample = description.sample ?? null;
  }
}
