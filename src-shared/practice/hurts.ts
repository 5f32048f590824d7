import { formatNumber } from '../quantity/format.ts';
import type { Observed, PracticeBench } from './observed.ts';

/** What a real bench in this state would do to somebody, with the reason. `code` tells one kind from another. */
export interface Hurt {
  readonly code: 'core-live' | 'winding-high' | 'too-much-current' | 'too-hot';
  readonly sentence: string;
}

/** From here on a shock is to be reckoned with, in V AC (IEC 61140). */
const touchVolts = 50;
/** Bell wire and its clips are not made for more, in V. */
const clipVolts = 600;
/** More than a usual branch circuit carries for long, in A. */
const circuitAmps = 16;
/** Common varnish and paper are at their end here, in °C (class B, IEC 60085). */
const varnishCelsius = 130;

const n = (value: number): string => formatNumber(value, 2);

/** What would hurt at a practice bench in this state; empty when nothing would. */
export function hurtsAt({ transformer, temperatures }: PracticeBench, observed: Observed): readonly Hurt[] {
  const highest = transformer.windings
    .map(({ id, label }) => ({ label, volts: observed.volts[id]?.rms ?? 0 }))
    .reduce((one, other) => (other.volts > one.volts ? other : one), { label: '', volts: 0 });
  return [
    ...(observed.coreVolts > touchVolts
      ? [
          {
            code: 'core-live' as const,
            sentence: `The core stands at about ${n(observed.coreVolts)} V against earth: its earth is not joined. A hand on it would have been a shock. Switch off, join the earth, prove dead again.`,
          },
        ]
      : []),
    ...(highest.volts > clipVolts
      ? [
          {
            code: 'winding-high' as const,
            sentence: `“${highest.label}” stands at about ${n(highest.volts)} V. No clip, lead or cheap meter here is made for that.`,
          },
        ]
      : []),
    ...(observed.lineAmps.rms > circuitAmps
      ? [
          {
            code: 'too-much-current' as const,
            sentence: `${n(observed.lineAmps.rms)} A flow from the supply. A real circuit would have tripped, and a clip or joint may have burnt. A lamp in series would only have lit up.`,
          },
        ]
      : []),
    ...(temperatures.winding > varnishCelsius
      ? [
          {
            code: 'too-hot' as const,
            sentence: `The winding is at about ${n(temperatures.winding)} °C: its varnish would be smoking. Limits on its temperature would have tripped the run.`,
          },
        ]
      : []),
  ];
}
