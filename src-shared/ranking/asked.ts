import { calculate } from '../calculation/calculate.ts';
import type { NeedFields } from '../record/need.ts';

/** What a need asks of the winding that serves it: r.m.s. volts and amps under load. */
export interface Asked {
  /** Of one half for a centre tap, of the whole winding otherwise. */
  readonly volts: number;
  readonly amps: number;
  /** Halves that lie in the window: two for a centre tap. */
  readonly halves: 1 | 2;
  /** Of the whole winding; the upper end where a rectifier gives a range. */
  readonly voltAmperes: number;
  /** The lower end of that; the same without a rectifier. */
  readonly voltAmperesFrom: number;
}

/**
 * The winding that gives direct volts and amps behind a rectifier with a capacitor; or the refusal of `rectifier`, whose
 * rule gives a range for the amps: whoever plans for one figure takes its upper end.
 */
export const behindRectifier = (circuit: 'bridge' | 'centre-tap' | 'half-wave', dcVolts: number, dcAmps: number) =>
  calculate('rectifier', { dcVolts, dcAmps, circuit, filter: 'capacitor' });

/**
 * A need as alternating volts and amps: its own, or behind a rectifier with a capacitor those of `rectifier`, the upper
 * end of its range. Null where that calculation refuses, which no stored need makes it do.
 */
export function askedBy({ volts, amps, feeds }: Pick<NeedFields, 'volts' | 'amps' | 'feeds'>): Asked | null {
  if (feeds === 'ac') {
    return { volts, amps, halves: 1, voltAmperes: volts * amps, voltAmperesFrom: volts * amps };
  }
  const answer = behindRectifier(feeds, volts, amps);
  if (!answer.ok) return null;
  const { secondaryVolts, secondaryAmps, va } = answer.results;
  return {
    volts: secondaryVolts.value,
    amps: secondaryAmps.to.value,
    halves: feeds === 'centre-tap' ? 2 : 1,
    voltAmperes: va.to.value,
    voltAmperesFrom: va.from.value,
  };
}
