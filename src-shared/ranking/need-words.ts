import { formatNumber } from '../quantity/format.ts';
import { inSystem, type UnitSystem } from '../quantity/unit.ts';
import type { NeedFields } from '../record/need.ts';
import { askedBy } from './asked.ts';

const n = (value: number) => formatNumber(value, 4);

const feedsWords: Readonly<Record<NeedFields['feeds'], string>> = {
  ac: 'a.c.',
  bridge: 'd.c. behind a bridge and a capacitor',
  'centre-tap': 'd.c. behind a centre tap and a capacitor',
};

/** A need in one line: `24 V, 12 A a.c., 10 min on and 20 min off, on 230 V 50 Hz 16 A`. */
export function needWords(
  { volts, amps, feeds, use, circuit, ambientCelsius }: NeedFields,
  system: UnitSystem,
): string {
  const room = ambientCelsius === undefined ? null : inSystem({ value: ambientCelsius, u: null, unit: '°C' }, system);
  return [
    `${n(volts)} V, ${n(amps)} A ${feedsWords[feeds]}`,
    use.kind === 'continuous' ? 'for hours' : `${n(use.onMinutes)} min on and ${n(use.offMinutes)} min off`,
    ...(circuit === undefined ? [] : [`on ${n(circuit.volts)} V ${circuit.hertz} Hz, ${n(circuit.amps)} A`]),
    ...(room === null ? [] : [`in a room of ${n(room.value)} ${room.unit}`]),
  ].join(', ');
}

/** What it asks of the winding: `288 VA`; behind a rectifier the volts and amps too. Null where nothing could serve it. */
export function askedWords(need: Pick<NeedFields, 'volts' | 'amps' | 'feeds'>): string | null {
  const asked = askedBy(need);
  if (asked === null) return null;
  const va = formatNumber(asked.voltAmperes, 3);
  if (need.feeds === 'ac') return `${va} VA of the winding`;
  const range = `${formatNumber(asked.voltAmperesFrom, 3)} to ${va} VA`;
  const [volts, amps] = [formatNumber(asked.volts, 3), formatNumber(asked.amps, 3)];
  return asked.halves === 2
    ? `${range}: two halves of ${volts} V, up to ${amps} A r.m.s. in each`
    : `${range}: ${volts} V and up to ${amps} A r.m.s. of the winding`;
}
