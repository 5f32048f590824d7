import type { PortInfo } from '../../../src-shared/contract/meter-view.ts';
import { readDescription, type MeterDescription } from '../../../src-shared/meter/description.ts';
import type { DecimalMark } from '../../../src-shared/meter/decimal-mark.ts';
import type { Encoding, LineFormat } from '../../../src-shared/meter/line-format.ts';
import { usualPortSettings, type PortSettings } from '../../../src-shared/meter/port-settings.ts';
import type { MeterRange, Scale } from '../../../src-shared/meter/range.ts';
import { carriesCoupling, type Coupling, type MeterUnit } from '../../../src-shared/meter/unit.ts';
import { parseNumber } from '../../../src-shared/quantity/parse-number.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';

/** A range of the accuracy table as typed. */
export interface RangeRow {
  readonly id: number;
  unit: MeterUnit;
  coupling: Coupling | 'none';
  top: string;
  resolution: string;
  percent: string;
  digits: string;
  shape: MeterRange['shape'];
}

/** A scale factor as typed. */
export interface ScaleRow {
  readonly id: number;
  unit: MeterUnit;
  factor: string;
  becomes: MeterUnit;
  percent: string;
}

type Serial = Extract<MeterDescription, { kind: 'serial' }>;
const box = (value: number): string => formatNumber(value, 9);
/** What a typed number comes to; one that cannot be read is refused by the description's schema as not finite. */
const number = (text: string): number => {
  const parsed = parseNumber(text);
  return parsed.ok ? parsed.value : Number.NaN;
};

/** A meter as it stands in the form: the person's own texts. */
export class MeterForm {
  readonly meterId: number | null;
  label = $state('');
  kind = $state<'serial' | 'keyboard'>('serial');
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
  responding = $state<MeterDescription['responding']>('unknown');
  maxVolts = $state('');
  category = $state('');
  linkIsolated = $state<Serial['linkIsolated']>('unknown');
  interval = $state('0.5');
  ranges = $state<RangeRow[]>([]);
  scales = $state<ScaleRow[]>([]);
  reason = $state('');
  /** What is wrong, by the path in the description. */
  refusals = $state.raw<Readonly<Record<string, string>>>({});
  #identity: { readonly path: string; readonly identity: string | null } | null = null;
  readonly #before: MeterDescription | null;
  #nextRow = 1;

  constructor(before: { readonly meterId: number; readonly description: MeterDescription } | null) {
    this.meterId = before?.meterId ?? null;
    this.#before = before?.description ?? null;
    if (before === null) return;
    const { description } = before;
    this.label = description.label;
    this.kind = description.kind === 'serial' ? 'serial' : 'keyboard';
    this.responding = description.responding;
    this.maxVolts = description.maxVolts === null ? '' : box(description.maxVolts);
    this.category = description.category ?? '';
    this.interval = box(description.typicalIntervalMs / 1000);
    this.ranges = description.ranges.map((range) => this.#row(range));
    this.scales = description.scales.map((scale) => this.#scaleRow(scale));
    if (description.kind === 'serial') this.#takeSerial(description);
  }

  /** The port was picked from the list: its lasting name is kept with it. */
  pickPort({ path, identity }: PortInfo): void {
    this.portPath = path;
    this.#identity = { path, identity };
  }

  /** A further range: ten times the last one, or an empty one. */
  addRange(): void {
    const last = this.ranges.at(-1);
    const times10 = (text: string): string => (text.trim() === '' ? '' : box(number(text) * 10));
    this.ranges.push(
      last === undefined
        ? this.#row({
            unit: 'V',
            coupling: 'ac',
            top: Number.NaN,
            resolution: Number.NaN,
            percentOfReading: Number.NaN,
            digits: Number.NaN,
            shape: 'rectangular',
          })
        : { ...last, id: this.#nextRow++, top: times10(last.top), resolution: times10(last.resolution) },
    );
  }

  addScale(): void {
    this.scales.push(this.#scaleRow({ unit: 'V', factor: 1000, becomes: 'A', percent: 1 }));
  }

  /** The range that a row amounts to, as far as its texts are numbers; null when one is not. */
  rangeOf(row: RangeRow): MeterRange | null {
    const range = this.#range(row);
    const isWhole = [range.top, range.resolution, range.percentOfReading, range.digits].every(Number.isFinite);
    return isWhole ? range : null;
  }

  /** The description, or null with every refusal at its place. */
  read(): MeterDescription | null {
    return this.#judge(this.#gather());
  }

  /** Enough of a description to listen on its port: accuracy and ratings may still be missing. */
  readForTrial(): MeterDescription | null {
    const gathered = this.#gather();
    const label = this.label.trim() === '' ? 'Meter on trial' : this.label;
    return this.#judge({ ...gathered, label, ranges: [], scales: [], maxVolts: null, category: null });
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

  #gather(): object {
    const common = {
      label: this.label,
      responding: this.responding,
      ranges: this.ranges.map((row) => this.#range(row)),
      scales: this.scales.map(({ unit, factor, becomes, percent }) => ({
        unit,
        factor: number(factor),
        becomes,
        percent: number(percent),
      })),
      maxVolts: this.maxVolts.trim() === '' ? null : number(this.maxVolts),
      category: this.category.trim() === '' ? null : this.category,
      typicalIntervalMs: Math.round(number(this.interval) * 1000),
    };
    if (this.kind === 'keyboard') return { kind: 'keyboard', ...common };
    const path = this.portPath.trim();
    return {
      kind: 'serial',
      ...common,
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
      talk: this.#before?.kind === 'serial' ? this.#before.talk : { mode: 'listen' },
      format: {
        grammar: this.grammar,
        encoding: this.encoding,
        decimal: this.decimal,
        ...(this.grammar === 'pattern' ? { pattern: this.pattern } : {}),
      },
      values: this.#before?.kind === 'serial' ? this.#before.values : [],
      bareUnit:
        this.bareUnit === 'none'
          ? null
          : {
              unit: this.bareUnit,
              coupling: this.bareCoupling === 'none' || !carriesCoupling(this.bareUnit) ? null : this.bareCoupling,
            },
      linkIsolated: this.linkIsolated,
    };
  }

  #takeSerial(description: Serial): void {
    const { port, format, bareUnit } = description;
    this.portPath = port.path;
    this.#identity = { path: port.path, identity: port.identity };
    this.baudRate = port.baudRate;
    this.dataBits = port.dataBits;
    this.parity = port.parity;
    this.stopBits = port.stopBits;
    this.dtr = port.dtr;
    this.rts = port.rts;
    this.encoding = format.encoding;
    this.decimal = format.decimal;
    this.grammar = format.grammar;
    if (format.grammar === 'pattern') this.pattern = format.pattern;
    this.bareUnit = bareUnit?.unit ?? 'none';
    this.bareCoupling = bareUnit?.coupling ?? 'none';
    this.linkIsolated = description.linkIsolated;
  }

  #range({ unit, coupling, top, resolution, percent, digits, shape }: RangeRow): MeterRange {
    return {
      unit,
      coupling: coupling === 'none' || !carriesCoupling(unit) ? null : coupling,
      top: number(top),
      resolution: number(resolution),
      percentOfReading: number(percent),
      digits: number(digits),
      shape,
    };
  }

  #row({ unit, coupling, top, resolution, percentOfReading, digits, shape }: MeterRange): RangeRow {
    const text = (value: number): string => (Number.isNaN(value) ? '' : box(value));
    return {
      id: this.#nextRow++,
      unit,
      coupling: coupling ?? 'none',
      top: text(top),
      resolution: text(resolution),
      percent: text(percentOfReading),
      digits: text(digits),
      shape,
    };
  }

  #scaleRow({ unit, factor, becomes, percent }: Scale): ScaleRow {
    return { id: this.#nextRow++, unit, factor: box(factor), becomes, percent: box(percent) };
  }
}
