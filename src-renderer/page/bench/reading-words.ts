import type { LastReading } from '../../../src-shared/contract/meter-view.ts';
import type { MeterDescription } from '../../../src-shared/meter/description.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';

/** More digits than any meter has: its range was described with a step that it does not show at this value. */
const mostDigits = 7;

/** A value with the digits that its range shows; without a range as many as it needs, six at most. */
export function meterDigits(value: number, resolution: number | null): string {
  const few = formatNumber(value, 6).replace('-', '−');
  if (resolution === null || resolution <= 0) return few;
  const decimals = Math.max(0, Math.min(9, Math.ceil(-Math.log10(resolution) - 1e-9)));
  const digits = value.toFixed(decimals).replace('-', '−');
  return digits.replaceAll(/\D/g, '').length > mostDigits ? few : digits;
}

const ohmScales = [
  { factor: 1e9, unit: 'GΩ' },
  { factor: 1e6, unit: 'MΩ' },
  { factor: 1e3, unit: 'kΩ' },
] as const;

/** The unit that a reading is shown in, and how many of its own make one: insulation is no number of nine digits. */
export const shownIn = (unit: string, value: number): { readonly unit: string; readonly factor: number } =>
  (unit === 'Ω' ? ohmScales.find(({ factor }) => Math.abs(value) >= factor) : undefined) ?? { unit, factor: 1 };

/** Volts as a caution names them: three figures, `12 V`, `215 V`, `1.2 kV`. */
export function voltsWords(volts: number): string {
  const size = Math.abs(volts);
  return size >= 1000 ? `${formatNumber(size / 1000, 3)} kV` : `${formatNumber(size, 3)} V`;
}

type Range = MeterDescription['ranges'][number];

/** A range as its knob names it: `20 V range`. */
export function rangeWords({ top, unit }: Range): string {
  if (top < 1) return `${formatNumber(top * 1000, 4)} m${unit} range`;
  const shown = shownIn(unit, top);
  return `${formatNumber(top / shown.factor, 4)} ${shown.unit} range`;
}

const respondingWords = { 'true-rms': 'true rms', average: 'average', unknown: 'true rms or not: not known' } as const;

/** Where a reading comes from: `Pocket meter, 2 V range, average`. */
export function sourceWords(meter: MeterDescription, rangeIndex: number | null): string {
  const range = rangeIndex === null ? undefined : meter.ranges[rangeIndex];
  return [
    meter.label,
    range === undefined ? 'range not known' : rangeWords(range),
    respondingWords[meter.responding],
  ].join(', ');
}

/** How long ago, for a figure: `0.2 s ago`, `12 s ago`, `3 min ago`. */
export function ageWords(ageMs: number): string {
  const seconds = Math.max(0, ageMs) / 1000;
  if (seconds < 9.95) return `${seconds.toFixed(1)} s ago`;
  if (seconds < 90) return `${Math.round(seconds)} s ago`;
  return `${Math.round(seconds / 60)} min ago`;
}

/** Coupling as meters print it. */
export const couplingWords = (coupling: LastReading['coupling']): string => (coupling ?? '').toUpperCase();
