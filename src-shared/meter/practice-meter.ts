import type { Generator } from '../quantity/generator.ts';
import type { PracticeMeter } from './description.ts';
import type { MeterRange } from './range.ts';
import type { Coupling, MeterUnit } from './unit.ts';

/** A simulated meter: what it would send for a true value at a time. */
export interface SimulatedMeter {
  /**
   * The line for a true value in the meter's unit; `locked` is the index of the range it is held on, `coupling` what its
   * knob is turned to, when that is not what it is described with.
   */
  lineFor(trueValue: number, atMs: number, locked: number | null, coupling?: Coupling): string;
}

/** How one simulated meter errs, as shares of what its description allows, each from -1 to 1. */
interface Faults {
  readonly gain: number;
  readonly offset: number;
  readonly phase: number;
}

/** Shares of the allowed error: a gain for good, a slow wander of it, an offset for good, and noise. */
const share = { gain: 0.8, wander: 0.2, offset: 0.5, noise: 0.3 } as const;
const wanderPeriodMs = 600_000;
/** A meter goes down a range when the value falls below this share of the lower range. */
const downShare = 0.9;

/** For a meter that is described without ranges: a plain one, without error. */
const plain = (unit: MeterUnit): MeterRange => ({
  unit,
  coupling: null,
  top: 2000,
  resolution: 0.1,
  percentOfReading: 0,
  digits: 0,
  shape: 'rectangular',
});

const unitWords: Partial<Record<MeterUnit, string>> = { Ω: 'Ohm', '°C': 'degC' };

const clipped = (value: number): number => Math.max(-1, Math.min(1, value));

/** The line's number: in steps of the range's last digit. */
function shownDigits(value: number, resolution: number): string {
  const places = Math.max(0, Math.ceil(-Math.log10(resolution) - 1e-9));
  return (Math.round(value / resolution) * resolution).toFixed(places);
}

/**
 * Simulates a meter by its description: it chooses ranges with some reluctance to go down, shows an overload above its
 * highest or locked range, and errs within its stated accuracy (a gain and an offset of its own, a slow wander, noise).
 * Nothing that it shows has been measured.
 */
export function simulateMeter(meter: PracticeMeter, generator: Generator): SimulatedMeter {
  const numbered = meter.ranges.map((range, index) => ({ range, index }));
  const rangesOf = (coupling: Coupling | null) => {
    const suitable = numbered
      .filter(({ range }) => range.unit === meter.unit && (range.coupling ?? coupling) === coupling)
      .sort((one, other) => one.range.top - other.range.top);
    return suitable.length > 0 ? suitable : [{ range: plain(meter.unit), index: -1 }];
  };
  const spread = () => 2 * generator.uniform() - 1;
  const faultsOf = (): Faults => ({ gain: spread(), offset: spread(), phase: Math.PI * spread() });
  const faults = new Map([-1, ...numbered.map(({ index }) => index)].map((index) => [index, faultsOf()]));
  let present = 0;

  const choose = (ranges: ReturnType<typeof rangesOf>, size: number): number => {
    present = Math.min(present, ranges.length - 1);
    while (present < ranges.length - 1 && size > (ranges[present]?.range.top ?? 0)) present += 1;
    while (present > 0 && size < downShare * (ranges[present - 1]?.range.top ?? 0)) present -= 1;
    return present;
  };

  return {
    lineFor(trueValue, atMs, locked, turnedTo) {
      const coupling = turnedTo ?? meter.coupling;
      const ranges = rangesOf(coupling);
      const mark = [unitWords[meter.unit] ?? meter.unit, coupling?.toUpperCase()].filter(Boolean).join(' ');
      const isUnsigned = coupling === 'ac';
      const value = isUnsigned ? Math.abs(trueValue) : trueValue;
      const held = locked === null ? -1 : ranges.findIndex(({ index }) => index === locked);
      const chosen = ranges[held === -1 ? choose(ranges, Math.abs(value)) : held];
      if (chosen === undefined || !Number.isFinite(value) || Math.abs(value) > chosen.range.top) {
        return `${value < 0 ? '-' : ''}OL ${mark}`;
      }
      const { range, index } = chosen;
      const { gain, offset, phase } = faults.get(index) ?? { gain: 0, offset: 0, phase: 0 };
      const wander = Math.sin((2 * Math.PI * atMs) / wanderPeriodMs + phase);
      const noise = clipped(generator.normal() / 3);
      const gainError = (range.percentOfReading / 100) * value * (share.gain * gain + share.wander * wander);
      const stepError = range.digits * range.resolution * (share.offset * offset + share.noise * noise);
      const shown = value + gainError + stepError;
      return `${shownDigits(isUnsigned ? Math.abs(shown) : shown, range.resolution)} ${mark}`;
    },
  };
}
