import { calculate } from '../calculation/calculate.ts';
import { hoursDensity, minutesDensity } from '../calculation/secondary/choice.ts';
import { formatNumber } from '../quantity/format.ts';
import { inSystem, type UnitSystem } from '../quantity/unit.ts';
import type { NeedFields } from '../record/need.ts';
import { askedBy, type Asked } from './asked.ts';

/** The line that feeds it: the need's circuit, else the mains of the workshop. */
export interface Line {
  readonly volts: number;
  readonly hertz: number;
}

/** A need, ready to hold cores against. */
export interface Demand {
  readonly need: NeedFields;
  readonly asked: Asked;
  readonly line: Line;
  readonly system: UnitSystem;
  /** A quantity in the person's units: `12.5 A`, `63 F°`. */
  readonly say: (value: number, unit: string, figures?: number) => string;
}

/** Null where no winding could serve the need at all. */
export function demandOf(need: NeedFields, mains: Line, system: UnitSystem): Demand | null {
  const asked = askedBy(need);
  if (asked === null) return null;
  const say = (value: number, unit: string, figures = 3): string => {
    const shown = inSystem({ value, u: null, unit }, system);
    return `${formatNumber(shown.value, figures)} ${shown.unit}`.trim();
  };
  return { need, asked, line: need.circuit ?? mains, system, say };
}

/** Where nobody made a heat run: a core of a few kg warms by about this, in s. Common practice, no source. */
const usualTimeConstant = 30 * 60;

/**
 * The part of its final rise that a load on for `onMinutes` and off for `offMinutes` peaks at, again and again: 1 for one
 * that stays on. `duty` has the formula.
 *
 * @param seconds - the time constant of heating; null for the usual one
 */
export function peakPart({ use }: NeedFields, seconds: number | null): number {
  if (use.kind === 'continuous') return 1;
  const answer = calculate('duty', {
    finalRise: 1,
    limitRise: 1,
    timeConstant: seconds ?? usualTimeConstant,
    onSeconds: use.onMinutes * 60,
    offSeconds: use.offMinutes * 60,
  });
  return answer.ok ? (answer.results.peakRiseRepeating?.value ?? 1) : 1;
}

/** A/mm² that copper may carry in such a use: heat goes as its square; never more than for minutes. Common practice. */
export const densityFor = (need: NeedFields, seconds: number | null): number =>
  Math.min(minutesDensity, hoursDensity / Math.sqrt(peakPart(need, seconds)));

/** Longest time on, in minutes, that still counts as minutes. Common practice, no source. */
const minutesAtMost = 15;

/** On for minutes with a pause at least as long: what the rule by mass is for. */
export const isForMinutes = ({ use }: NeedFields): boolean =>
  use.kind === 'on-off' && use.onMinutes <= minutesAtMost && use.offMinutes >= use.onMinutes;
