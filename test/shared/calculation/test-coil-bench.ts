import type { Estimate } from '../../../src-shared/quantity/estimate.ts';
import type { Generator } from '../../../src-shared/quantity/generator.ts';
import { accept } from './ask.ts';
import { observe, type CoverageCase } from './coverage.ts';
import { between, pick } from './draw.ts';

/** A meter on one range: gain error shared by all that it reads there, digits and noise its own. */
interface Range {
  readonly id: string;
  readonly gain: number;
  readonly digits: number;
  readonly shape: Estimate['shape'];
  /** Degrees of freedom of the own part: few where it was found from repeats. */
  readonly dof: number;
}

const rangeOf = (generator: Generator, id: string): Range => ({
  id,
  gain: between(generator, 0, 0.01),
  digits: between(generator, 0.0005, 0.01),
  ...pick<Pick<Range, 'shape' | 'dof'>>(generator, [
    { shape: 'rectangular', dof: Infinity },
    { shape: 'rectangular', dof: Infinity },
    { shape: 'triangular', dof: Infinity },
    { shape: 'normal', dof: Infinity },
    { shape: 'normal', dof: 4 },
    { shape: 'normal', dof: 9 },
  ]),
});

/** The true volts as this range states its doubt about them. */
const on = ({ id, gain, digits, shape, dof }: Range, volts: number): Estimate => ({
  value: volts,
  u: digits,
  shape,
  dof,
  shared: { id, u: gain * volts },
});

/** A transformer with known turns, coils of a few sizes, and cheap meters: one on one range, one on two, or exchanged. */
export function testCoilBench(generator: Generator): CoverageCase {
  const truth = Math.round(between(generator, 60, 500));
  const perTurn = between(generator, 0.02, 0.3);
  const [first, second] = [rangeOf(generator, 'a'), rangeOf(generator, 'b')];
  const way = pick(generator, ['one range', 'two ranges', 'exchanged'] as const);
  const coils = Array.from({ length: pick(generator, [1, 1, 2, 3]) }, () => Math.round(between(generator, 5, 60)));
  const read = (coilTurns: number, primary: Range, coil: Range, swapped: boolean) => ({
    coilTurns,
    coilVolts: on(coil, coilTurns * perTurn),
    primaryVolts: on(primary, truth * perTurn),
    swapped,
  });
  const readings = coils.flatMap((coilTurns) => {
    if (way === 'one range') return [read(coilTurns, first, first, false)];
    if (way === 'two ranges') return [read(coilTurns, first, second, false)];
    return [read(coilTurns, first, second, false), read(coilTurns, second, first, true)];
  });
  const forJson = observe({ readings }, generator).readings.map(({ coilVolts, primaryVolts, ...rest }) => ({
    ...rest,
    coilVolts: { ...coilVolts, dof: Number.isFinite(coilVolts.dof) ? coilVolts.dof : null },
    primaryVolts: { ...primaryVolts, dof: Number.isFinite(primaryVolts.dof) ? primaryVolts.dof : null },
  }));
  const { primaryTurns } = accept('test-coil', { readings: forJson }).results;
  if (primaryTurns.interval95 === null) throw new Error('No interval where every uncertainty is stated.');
  return { truth, interval95: primaryTurns.interval95 };
}
