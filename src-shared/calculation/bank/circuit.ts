import { atAngle, minus, over, plus, scaled, size, times, zero, type Phasor } from './phasor.ts';

/** One winding as a source: its volts with no load behind its own impedance. */
export interface UnitValues {
  readonly openVolts: number;
  readonly ohms: number;
  readonly reactance?: number;
  readonly phaseDegrees: number;
}

/** What the load takes: its power factor as the cosine, with the sign of its angle. */
export interface Load {
  readonly powerFactor: number;
  readonly sense: 'lagging' | 'leading';
}

const voltsOf = ({ openVolts, phaseDegrees }: UnitValues): Phasor => atAngle(openVolts, phaseDegrees);
const impedanceOf = ({ ohms, reactance = 0 }: UnitValues): Phasor => ({ re: ohms, im: reactance });
const one: Phasor = { re: 1, im: 0 };
const sum = (all: readonly Phasor[]) => all.reduce(plus, zero);

/** Units joined, seen as one: open volts behind an impedance. */
export interface Source {
  readonly volts: Phasor;
  readonly impedance: Phasor;
}

export const inSeries = (units: readonly UnitValues[]): Source => ({
  volts: sum(units.map(voltsOf)),
  impedance: sum(units.map(impedanceOf)),
});

/** Open volts of a parallel bank: the mean of the units' by their admittances (Millman's theorem). */
export function inParallel(units: readonly UnitValues[]): Source {
  const impedance = over(one, sum(units.map((unit) => over(one, impedanceOf(unit)))));
  const short = sum(units.map((unit) => over(voltsOf(unit), impedanceOf(unit))));
  return { volts: times(short, impedance), impedance };
}

/** What flows out of a unit that is held at `terminal`. */
export const currentOf = (unit: UnitValues, terminal: Phasor): Phasor =>
  over(minus(voltsOf(unit), terminal), impedanceOf(unit));

/** What stands across the last link of a parallel bank before it is closed, at one unit against all others joined. */
export const acrossLastLink = (units: readonly UnitValues[], index: number): Phasor => {
  const unit = units[index];
  if (unit === undefined) return zero;
  return minus(voltsOf(unit), inParallel(units.filter((_, other) => other !== index)).volts);
};

const rounding = 1e-9;

/**
 * Terminal volts under a load of so many amps: U0 = (U e^{jφ} + I Z) e^{jα}, with the load's current as the reference of
 * its own volts. Null where the source cannot drive so much.
 */
export function underLoad({ volts, impedance }: Source, amps: number, { powerFactor, sense }: Load): Phasor | null {
  if (amps === 0) return volts;
  const angle = Math.acos(powerFactor) * (sense === 'lagging' ? 1 : -1);
  const turn = { re: Math.cos(angle), im: Math.sin(angle) };
  const drop = scaled(impedance, amps);
  const half = drop.re * turn.re + drop.im * turn.im;
  const left = half ** 2 - size(drop) ** 2 + size(volts) ** 2;
  const length = Math.sqrt(left) - half;
  // A short of the ends leaves nothing, give or take the rounding.
  if (!(length >= -rounding * size(volts))) return null;
  const terminal = scaled(turn, Math.max(0, length));
  return times(terminal, over(volts, plus(terminal, drop)));
}

/** The current that a short of the bank's ends would take: no load takes more. */
export const shortCircuitAmps = ({ volts, impedance }: Source): number => size(volts) / size(impedance);
