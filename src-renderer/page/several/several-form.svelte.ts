import * as v from 'valibot';
import type { ShelfEntry } from '../../../src-shared/ranking/core-facts.ts';
import type { JoinUnit, Joint, Known } from '../../../src-shared/joining/unit.ts';
import { ways, type Way } from '../../../src-shared/joining/way.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { readMeasured, readQuantity, type Asked, type Read } from '../../part/read-quantity.ts';
import { unitOnRecord, type UnitOnRecord } from './unit-record.ts';

/** What the boxes of one unit ask. */
export const unitAsked = {
  openVolts: { name: 'Volts with no load', unit: 'V', lowest: 0.01, highest: 5000 },
  ohms: { name: 'Resistance', unit: 'Ω', lowest: 1e-6, highest: 1e6 },
  reactance: { name: 'Leakage reactance', unit: 'Ω', lowest: 0, highest: 1e6 },
  ratedAmps: { name: 'Rated amps', unit: 'A', lowest: 0.01, highest: 10_000 },
  primaryTurns: { name: 'Primary turns', unit: '', lowest: 0.5, highest: 100_000 },
  primaryOhms: { name: 'Primary resistance', unit: 'Ω', lowest: 1e-4, highest: 1e6 },
} as const satisfies Readonly<Record<string, Asked>>;
export type UnitKey = keyof typeof unitAsked;
const unitKeys: readonly UnitKey[] = ['openVolts', 'ohms', 'reactance', 'ratedAmps', 'primaryTurns', 'primaryOhms'];
const measuredKeys: readonly UnitKey[] = ['openVolts', 'ohms', 'primaryTurns', 'primaryOhms'];

const jointAsked = {
  supplyVolts: { name: 'Supply', unit: 'V', lowest: 1, highest: 1000 },
  testVolts: { name: 'Low source', unit: 'V', lowest: 0.5, highest: 50 },
  loadAmps: { name: 'Load', unit: 'A', lowest: 0.01, highest: 10_000 },
} as const satisfies Readonly<Record<string, Asked>>;
export type JointKey = keyof typeof jointAsked;

/** What a reading beside a step may be. */
const reading = { name: 'Reading', unit: '', lowest: 0, highest: 10_000 } as const;

interface Typed {
  text: string;
  doubt: string;
}
const empty = (): Record<UnitKey, Typed> => ({
  openVolts: { text: '', doubt: '' },
  ohms: { text: '', doubt: '' },
  reactance: { text: '', doubt: '' },
  ratedAmps: { text: '', doubt: '' },
  primaryTurns: { text: '', doubt: '' },
  primaryOhms: { text: '', doubt: '' },
});

/** One unit as it stands in the form. */
export interface FormUnit {
  readonly coreId: number;
  /** What its figures were taken from: what was measured, or an output of a kept plan as `planId key`. */
  readonly from: string;
  texts: Record<UnitKey, Typed>;
}
export const fromRecord = 'record';

const text = v.string();
const Typed = v.strictObject({ text, doubt: text });
/** The form as a reload brings it back. */
export const SeveralSnapshot = v.strictObject({
  way: v.picklist(ways),
  texts: v.strictObject({ supplyVolts: text, testVolts: text, loadAmps: text }),
  stackSupply: v.picklist(['same', 'double']),
  units: v.pipe(
    v.array(
      v.strictObject({
        coreId: v.number(),
        from: text,
        texts: v.strictObject({
          ...{ openVolts: Typed, ohms: Typed, reactance: Typed },
          ...{ ratedAmps: Typed, primaryTurns: Typed, primaryOhms: Typed },
        }),
      }),
    ),
    v.minLength(2),
    v.maxLength(4),
  ),
  readings: v.record(text, text),
});
export type SeveralSnapshot = v.InferOutput<typeof SeveralSnapshot>;

/** How many units each way takes at most. */
export const mostUnits: Readonly<Record<Way, number>> = {
  parallel: 4,
  series: 4,
  'double-supply': 2,
  'double-stack': 2,
};

/** Transformers that are to be joined, as they stand in the form: the person's own texts. */
export class SeveralForm {
  way = $state<Way>('parallel');
  texts = $state<Record<JointKey, string>>({ supplyVolts: '', testVolts: '12', loadAmps: '' });
  stackSupply = $state<Joint['stackSupply']>('same');
  units = $state<FormUnit[]>([]);
  /** What was read, by the step. */
  readings = $state<Record<string, string>>({});

  constructor(way: Way, entries: readonly ShelfEntry[], mainsVolts: number) {
    this.way = way;
    this.texts.supplyVolts = formatNumber(mainsVolts, 6);
    for (const entry of entries.slice(0, mostUnits[way])) this.add(entry);
  }

  /** The volts that one unit gets of the supply; undefined while that cannot be read. */
  get unitVolts(): number | undefined {
    const supply = valueOf(readQuantity(this.texts.supplyVolts, jointAsked.supplyVolts, 'metric'));
    if (supply === undefined) return undefined;
    return this.way === 'double-supply' ? supply / 2 : supply;
  }

  /** One more unit, with what the record knows of it. */
  add(entry: ShelfEntry): void {
    this.units.push({ coreId: entry.core.coreId, from: fromRecord, texts: this.#textsOf(this.#onRecord(entry)) });
  }

  /** Another core in a place, or the same anew: the figures that the record has of it. */
  replace(at: number, entry: ShelfEntry): void {
    this.fill(at, entry.core.coreId, fromRecord, this.#onRecord(entry));
  }

  /** Figures of a unit from elsewhere; what was read beside the steps was read of other figures. */
  fill(at: number, coreId: number, from: string, known: UnitOnRecord): void {
    this.units[at] = { coreId, from, texts: this.#textsOf(known) };
    this.readings = {};
  }

  snapshot(): SeveralSnapshot {
    const { way, stackSupply } = this;
    return {
      ...{ way, stackSupply },
      texts: $state.snapshot(this.texts),
      units: $state.snapshot(this.units),
      readings: $state.snapshot(this.readings),
    };
  }

  /** The form as a snapshot has it. */
  restore({ way, texts, stackSupply, units, readings }: SeveralSnapshot): void {
    this.way = way;
    this.texts = { ...texts };
    this.stackSupply = stackSupply;
    this.units = units.map((unit) => ({ ...unit, texts: { ...empty(), ...unit.texts } }));
    this.readings = { ...readings };
  }

  remove(at: number): void {
    this.units.splice(at, 1);
    this.readings = {};
  }

  choose(way: Way): void {
    this.way = way;
    this.units = this.units.slice(0, mostUnits[way]);
    this.readings = {};
  }

  refusalOf(key: JointKey): string | undefined {
    const read = readQuantity(this.texts[key], jointAsked[key], 'metric');
    return read.kind === 'refused' ? read.message : undefined;
  }

  unitRefusal(unit: FormUnit, key: UnitKey): string | undefined {
    const read = readUnit(unit, key);
    return read.kind === 'refused' ? read.message : undefined;
  }

  /** The reading beside a step; null when there is none, or none that can be read. */
  readingOf(id: string): Read<number> {
    return readQuantity(this.readings[id] ?? '', reading, 'metric');
  }

  /** What is to be joined, as far as it can be read; null without the supply or the low source. */
  joint(entries: readonly ShelfEntry[]): Joint | null {
    const [supplyVolts, testVolts, loadAmps] = (['supplyVolts', 'testVolts', 'loadAmps'] as const).map((key) =>
      valueOf(readQuantity(this.texts[key], jointAsked[key], 'metric')),
    );
    if (supplyVolts === undefined || testVolts === undefined) return null;
    const entryOf = (coreId: number) => entries.find(({ core }) => core.coreId === coreId);
    const names = namesOf(this.units.map(({ coreId }) => entryOf(coreId)?.core.fields.label ?? 'core'));
    const units = this.units.map((unit, at): JoinUnit => {
      const [openVolts, ohms, primaryTurns, primaryOhms] = (
        ['openVolts', 'ohms', 'primaryTurns', 'primaryOhms'] as const
      ).map((key) => valueOf(readUnit(unit, key)) ?? null);
      const [reactance, ratedAmps] = (['reactance', 'ratedAmps'] as const).map(
        (key) => valueOf(readUnit(unit, key))?.value ?? null,
      );
      return {
        name: names[at] ?? 'core',
        openVolts: openVolts ?? null,
        ohms: ohms ?? null,
        reactance: reactance ?? null,
        ratedAmps: ratedAmps ?? null,
        primaryTurns: primaryTurns ?? null,
        primaryOhms: primaryOhms ?? null,
      };
    });
    const first = this.units[0] === undefined ? undefined : entryOf(this.units[0].coreId)?.core.fields;
    return {
      units,
      supplyVolts,
      testVolts,
      loadAmps: loadAmps ?? null,
      stackSupply: this.stackSupply,
      stackCore:
        first?.windowWidth === undefined || first.windowHeight === undefined
          ? null
          : { windowWidthMm: first.windowWidth, windowHeightMm: first.windowHeight },
    };
  }

  #onRecord(entry: ShelfEntry): UnitOnRecord {
    return unitOnRecord(entry, this.unitVolts);
  }

  #textsOf(known: UnitOnRecord): Record<UnitKey, Typed> {
    const texts = empty();
    for (const key of ['openVolts', 'ohms', 'ratedAmps', 'primaryTurns', 'primaryOhms'] as const) {
      const value = known[key];
      if (value === undefined) continue;
      const doubt = value.u === null || !measuredKeys.includes(key) ? '' : formatNumber(value.u, 2);
      texts[key] = { text: formatNumber(value.value, 4), doubt };
    }
    return texts;
  }
}

const valueOf = <T>(read: Read<T>): T | undefined => (read.kind === 'value' ? read.value : undefined);

function readUnit({ texts }: FormUnit, key: UnitKey): Read<Known> {
  const { text, doubt } = texts[key];
  return readMeasured(text, measuredKeys.includes(key) ? doubt : '', unitAsked[key], 'metric');
}

/** Two of one name are told apart by their place. */
const namesOf = (labels: readonly string[]): readonly string[] =>
  labels.map((label, at) => (labels.filter((each) => each === label).length > 1 ? `${label} (${at + 1})` : label));

/** Which boxes a way asks of each unit. */
export const boxesOf = (way: Way): readonly UnitKey[] =>
  unitKeys.filter((key) => (way === 'double-stack') === key.startsWith('primary'));
