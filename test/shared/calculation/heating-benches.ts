import { exact, rectangular, type Estimate } from '../../../src-shared/quantity/estimate.ts';
import type { Generator } from '../../../src-shared/quantity/generator.ts';
import { conductors, metals } from '../../../src-shared/calculation/conductor.ts';
import { accept } from './ask.ts';
import { forJson, observe, type CoverageCase } from './coverage.ts';
import { between, pick } from './draw.ts';

const normal = (value: number, u: number): Estimate => ({ ...exact(value), u });

/** A thermometer: one offset that all its readings share, and noise of their own; no doubt at all is stated in some benches. */
function thermometer(generator: Generator) {
  const [own, offset] = [between(generator, 0.1, 0.6), pick(generator, [0, between(generator, 0, 0.6)])];
  const shape = pick<Estimate['shape']>(generator, ['normal', 'rectangular', 'triangular']);
  return (celsius: number): Estimate => ({
    ...exact(celsius),
    u: own,
    shape,
    ...(offset === 0 ? {} : { shared: { id: 'probe', u: offset } }),
  });
}

/** A body that warms exponentially, read at regular or irregular times over 1.5 to 4 time constants. */
export function heatRunBench(generator: Generator): CoverageCase {
  const [start, rise] = [between(generator, 10, 30), between(generator, 20, 90)];
  const tau = between(generator, 600, 9000);
  const count = Math.round(between(generator, 8, 30));
  const length = between(generator, 1.5, 4) * tau;
  const at = (seconds: number) => start + rise * (1 - Math.exp(-seconds / tau));
  const read = thermometer(generator);
  const points = Array.from({ length: count }, (_, k) => {
    const seconds = ((k + between(generator, 0, 0.5)) * length) / count;
    return { seconds, celsius: read(at(seconds)) };
  });
  const isFixed = generator.uniform() < 0.4;
  const truths = { points, ...(isFixed ? { startCelsius: normal(start, 0.3) } : {}) };
  const { finalCelsius, timeConstant } = accept('heat-run', forJson(observe(truths, generator))).results;
  const what = pick(generator, ['end', 'time constant'] as const);
  const { interval95 } = what === 'end' ? finalCelsius : timeConstant;
  if (interval95 === null) throw new Error('No interval where every uncertainty is stated.');
  return { truth: what === 'end' ? start + rise : tau, interval95 };
}

/** A winding read cold and hot, on one range or two, with few or many repeats behind the hot reading. */
export function temperatureBench(generator: Generator): CoverageCase {
  const metal = pick(generator, [metals[0], ...metals.slice(1)]);
  const constant = conductors[metal].constantCelsius;
  const [cold, coldCelsius, ambient] = [
    between(generator, 0.1, 40),
    between(generator, 15, 25),
    between(generator, 15, 30),
  ];
  const hotCelsius = between(generator, 45, 160);
  const hot = (cold * (constant + hotCelsius)) / (constant + coldCelsius);
  const [own, gain] = [between(generator, 0.0005, 0.004), between(generator, 0, 0.005)];
  const isOneRange = generator.uniform() < 0.5;
  const ohms = (value: number, id: string): Estimate => ({
    value,
    u: own * value,
    shape: pick(generator, ['normal', 'rectangular', 'triangular']),
    dof: Infinity,
    shared: { id, u: gain * value },
  });
  const repeated = { ...normal(hot, own * hot), dof: pick(generator, [4, 8, 15]) };
  const truths = {
    coldOhms: ohms(cold, 'first range'),
    coldCelsius: rectangular(coldCelsius, between(generator, 0.2, 1.5)),
    hotOhms: generator.uniform() < 0.3 ? repeated : ohms(hot, isOneRange ? 'first range' : 'second range'),
    ambientCelsius: normal(ambient, between(generator, 0.1, 0.8)),
    metal,
  };
  const { rise, hotCelsius: found } = accept('temperature-by-resistance', forJson(observe(truths, generator))).results;
  const what = pick(generator, ['rise', 'temperature'] as const);
  const { interval95 } = what === 'rise' ? rise : found;
  if (interval95 === null) throw new Error('No interval where every uncertainty is stated.');
  return { truth: what === 'rise' ? hotCelsius - ambient : hotCelsius, interval95 };
}
