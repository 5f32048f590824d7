import type { SerialMeter } from './description.ts';
import type { BareUnit } from './line-format.ts';
import type { LineField, NumberValue, OverloadValue, ReadValue } from './line-grammar.ts';
import type { Scale } from './range.ts';
import type { Coupling, MeterUnit } from './unit.ts';
import type { Unreadable, UnreadableReason } from './unreadable.ts';

/** What a meter showed before a scale factor was applied to it: its range and accuracy go by this. */
export interface ShownValue {
  readonly value: number;
  readonly unit: MeterUnit;
  readonly resolution: number;
}

/** A value as it leaves the meter layer: a number always has its unit. */
export type MeterValue =
  (NumberValue & { readonly unit: MeterUnit; readonly shown?: ShownValue }) | OverloadValue | Unreadable;

/** Where a value came from. */
export type MeterOrigin = 'meter' | 'keyboard' | 'practice';

/** The name under which a meter of one value a line gives it. */
export const soleValue = 'value';

/** One value at one time, as plain data. `atMs` is on the clock that never steps, `wallMs` on the wall's. */
export type MeterReading = MeterValue & {
  readonly meterId: number;
  /** Which of the meter's values; `value` for a meter that has one. */
  readonly name: string;
  readonly atMs: number;
  readonly wallMs: number;
  readonly origin: MeterOrigin;
  /** True for everything that was not measured. */
  readonly practice: boolean;
};

/** What a channel takes; a null coupling takes any. */
export interface ExpectedUnit {
  readonly unit: MeterUnit;
  readonly coupling: Coupling | null;
}

/** Expected units by the name of the value. */
export type Expectations = Readonly<Record<string, ExpectedUnit>>;

export interface NamedValue {
  readonly name: string;
  readonly value: MeterValue;
}

const no = (value: ReadValue, why: UnreadableReason, detail?: string): Unreadable => ({
  kind: 'unreadable',
  why,
  at: 0,
  text: value.text,
  ...(detail === undefined ? {} : { detail }),
});

const inWords = (unit: string | undefined, coupling: string | null | undefined): string =>
  [unit ?? 'a bare number', coupling ?? ''].filter((word) => word !== '').join(' ');

/** The value, or unreadable when its unit or coupling is another than expected; what was not sent is not judged. */
export function inExpectedUnit<V extends ReadValue>(value: V, expected: ExpectedUnit): V | Unreadable {
  if (value.kind === 'unreadable') return value;
  const isOther = value.unit !== undefined && value.unit !== expected.unit;
  const isOtherKind =
    value.coupling !== undefined && expected.coupling !== null && value.coupling !== expected.coupling;
  if (!isOther && !isOtherKind) return value;
  const sent = inWords(value.unit ?? expected.unit, value.coupling);
  return no(value, 'wrong-unit', `It is ${sent}; ${inWords(expected.unit, expected.coupling)} was expected.`);
}

/** Fills in what the description says and the line does not; unreadable where the two differ. */
function asDescribed(value: ReadValue, described: ExpectedUnit | null): ReadValue {
  if (value.kind === 'unreadable' || described === null) return value;
  const checked = inExpectedUnit(value, described);
  if (checked.kind === 'unreadable') return checked;
  const coupling = checked.coupling ?? described.coupling;
  return { ...checked, unit: described.unit, ...(coupling === null ? {} : { coupling }) };
}

/** Applies the meter's scale factor for the unit, keeping what was shown. */
export function scaled(value: NumberValue & { readonly unit: MeterUnit }, scales: readonly Scale[]): MeterValue {
  const scale = scales.find(({ unit }) => unit === value.unit);
  if (scale === undefined) return value;
  const shown = { value: value.value, unit: value.unit, resolution: value.resolution };
  return {
    ...value,
    value: value.value * scale.factor,
    unit: scale.becomes,
    resolution: value.resolution * scale.factor,
    shown,
  };
}

/** Gives an overload or a number its unit by description and scale; a bare number that nothing describes is unreadable. */
function complete(value: ReadValue, described: ExpectedUnit | null, scales: readonly Scale[]): MeterValue {
  const known = asDescribed(value, described);
  if (known.kind === 'unreadable') return known;
  if (known.kind === 'overload') {
    const becomes = scales.find(({ unit }) => unit === known.unit)?.becomes ?? known.unit;
    return becomes === undefined ? known : { ...known, unit: becomes };
  }
  const { unit } = known;
  return unit === undefined ? no(known, 'unit-missing') : scaled({ ...known, unit }, scales);
}

/** What the description's unit for bare numbers adds to a value: everything, or only the coupling of the same unit. */
const bareFor = (value: ReadValue, bare: ExpectedUnit | null): ExpectedUnit | null =>
  value.kind !== 'unreadable' && (value.unit === undefined || value.unit === bare?.unit) ? bare : null;

/** A bare number in the unit that the description gives it, by its power of ten. */
function inBareUnit(value: ReadValue, bare: BareUnit | null): ReadValue {
  const power = bare?.powerOfTen ?? 0;
  if (value.kind !== 'number' || value.unit !== undefined || power === 0) return value;
  // Dividing by an exact power rounds once; multiplying by 0.001 would round twice.
  const by = (one: number): number => (power < 0 ? one / 10 ** -power : one * 10 ** power);
  return { ...value, value: by(value.value), resolution: by(value.resolution) };
}

type Describes = Pick<SerialMeter, 'values' | 'bareUnit' | 'scales'>;

function pick(fields: readonly LineField[], { values, bareUnit, scales }: Describes, line: string): NamedValue[] {
  const [first, ...more] = fields;
  const blank: ReadValue = { kind: 'unreadable', why: 'blank', at: 0, text: line };
  if (values.length === 0) {
    const value = more.length > 0 ? no({ ...blank }, 'several-values') : (first?.value ?? blank);
    return [{ name: soleValue, value: complete(inBareUnit(value, bareUnit), bareFor(value, bareUnit), scales) }];
  }
  return values.map(({ name, from, unit, coupling }) => {
    const field = from.by === 'position' ? fields[from.position] : fields.find(({ label }) => label === from.label);
    const value = field?.value ?? no(blank, 'value-missing', `Missing: ${name}.`);
    const known =
      unit === null
        ? complete(inBareUnit(value, bareUnit), bareFor(value, bareUnit), scales)
        : complete(value, { unit, coupling }, scales);
    return { name, value: known };
  });
}

/**
 * The values of one line by the meter's description: picked by place or label, with their unit and scale, and refused
 * as `wrong-unit` where a channel expects another. One value for each that is described; one in all when none is.
 */
export function valuesOf(
  line: string,
  fields: readonly LineField[],
  meter: Describes,
  expected: Expectations = {},
): readonly NamedValue[] {
  return pick(fields, meter, line).map(({ name, value }) => {
    const unit = expected[name];
    return { name, value: unit === undefined ? value : inExpectedUnit(value, unit) };
  });
}
