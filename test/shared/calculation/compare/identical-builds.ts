import { comparable } from '../../../../src-shared/calculation/compare/comparable.ts';
import type { Estimate } from '../../../../src-shared/quantity/estimate.ts';
import { seededGenerator, type Generator } from '../../../../src-shared/quantity/generator.ts';
import { accept } from '../ask.ts';
import { observe } from '../coverage.ts';

const between = (generator: Generator, low: number, high: number) => low + (high - low) * generator.uniform();

/** A meter on one range: its gain is common to all that it reads there, its digits or its noise are each reading's own. */
const rangeOf = (generator: Generator, id: string) => {
  const [gain, digits] = [between(generator, 0, 0.01), between(generator, 0.0005, 0.004)];
  const kinds: readonly Pick<Estimate, 'shape' | 'dof'>[] = [
    { shape: 'rectangular', dof: Infinity },
    { shape: 'triangular', dof: Infinity },
    { shape: 'normal', dof: Infinity },
    { shape: 'normal', dof: 6 },
  ];
  const kind = kinds[Math.floor(4 * generator.uniform())] ?? { shape: 'normal', dof: Infinity };
  return (value: number): Estimate => ({ value, u: digits * value, ...kind, shared: { id, u: gain * value } });
};

const forJson = (estimate: Estimate) => ({ ...estimate, dof: Number.isFinite(estimate.dof) ? estimate.dof : null });

/** What two sittings with the same meters would read on one and the same transformer. */
function twoSittings(generator: Generator) {
  const [volts, amps, ohms] = ['volts', 'amps', 'ohms'].map((id) => rangeOf(generator, id));
  if (volts === undefined || amps === undefined || ohms === undefined) throw new Error('Three ranges were asked for.');
  const turns = Math.round(between(generator, 80, 300));
  const perTurn = between(generator, 0.02, 0.1);
  const coilTurns = Math.round(between(generator, 10, 60));
  const current = between(generator, 0.5, 3);
  const resistance = between(generator, 0.3, 4);
  const sitting = () => ({
    coilVolts: volts(coilTurns * perTurn),
    primaryVolts: volts(turns * perTurn),
    lineVolts: volts(120),
    lineAmps: amps(current),
    watts: amps(30 * current),
    ohms: ohms(resistance),
  });
  return { coilTurns, ...observe({ before: sitting(), after: sitting() }, generator) };
}

type Sitting = ReturnType<typeof twoSittings>['before'];

function resultsOf(coilTurns: number, sitting: Sitting) {
  const [coilVolts, primaryVolts, volts, amps, watts, ohms] = [
    sitting.coilVolts,
    sitting.primaryVolts,
    sitting.lineVolts,
    sitting.lineAmps,
    sitting.watts,
    sitting.ohms,
  ].map(forJson);
  const { primaryTurns } = accept('test-coil', { readings: [{ coilTurns, coilVolts, primaryVolts }] }).results;
  const { coreLoss, magnetisingCurrent } = accept('no-load', { volts, amps, watts }).results;
  if (coreLoss === undefined || magnetisingCurrent === undefined) throw new Error('The watts were given.');
  return [
    comparable('primary turns', primaryTurns),
    comparable('core loss', coreLoss),
    comparable('magnetising current', magnetisingCurrent),
    { quantity: 'primary resistance', unit: 'Ω', value: ohms },
  ];
}

/** How often each quantity of identical builds is called changed, over so many pairs from one seed. */
export function falseChanges(seed: number, pairs: number): ReadonlyMap<string, number> {
  const generator = seededGenerator(seed);
  const changed = new Map<string, number>();
  for (let drawn = 0; drawn < pairs; drawn += 1) {
    const { coilTurns, before, after } = twoSittings(generator);
    const input = {
      before: { results: resultsOf(coilTurns, before) },
      after: { results: resultsOf(coilTurns, after) },
    };
    for (const { quantity, verdict } of accept('compare', input).results.quantities) {
      changed.set(quantity, (changed.get(quantity) ?? 0) + (verdict === 'changed' ? 1 : 0));
    }
  }
  return new Map([...changed].map(([quantity, count]) => [quantity, count / pairs]));
}

/** The error of a share of 5 % over so many pairs, at so many standard deviations. */
export const errorOfFivePercent = (pairs: number, deviations: number) => deviations * Math.sqrt((0.05 * 0.95) / pairs);
