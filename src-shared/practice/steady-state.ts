import { losing } from './iron.ts';
import { step, type Circuit, type Instants } from './circuit.ts';

/** One whole period of a circuit, sampled evenly. All lists are of equal length. */
export interface Period {
  readonly hertz: number;
  /** What stood where it begins: the like of this circuit settles sooner from there. */
  readonly began: Instants;
  /** Volts of the source behind its own resistance, in V. */
  readonly source: readonly number[];
  /** Flux in the wound limb, in Wb, and its rate, in Wb/s: the volts of one turn. */
  readonly flux: readonly number[];
  readonly voltsPerTurn: readonly number[];
  /** Currents by coil, the fed one first, in A. */
  readonly amps: readonly (readonly number[])[];
  /** Power that the iron turns into heat, in W. */
  readonly ironWatts: readonly number[];
}

const stepsPerPeriod = 800;
const mostHalves = 400;
const closeEnough = 1e-7;

/** Everything at rest. */
const atRest = ({ loaded }: Circuit): Instants => ({
  flux: [0, 0],
  amps: [[0, 0], ...loaded.map((): [number, number] => [0, 0])],
});

/**
 * The period that a circuit settles into. It begins where the source peaks, since the flux is then near zero. A steady
 * half period ends in the mirror of its beginning, so each half is begun from the mirror of the last one's end; a
 * one-sided flux, which would die away slowly by itself, is taken out half by half.
 *
 * @param steps - samples of a period; even
 * @param from - where a circuit like this one began, in as many steps; at rest when left out
 */
export function steadyPeriod(circuit: Circuit, steps = stepsPerPeriod, from = atRest(circuit)): Period {
  const { volts, hertz } = circuit;
  const h = 1 / (hertz * steps);
  const peak = volts * Math.SQRT2;
  const sourceAt = (index: number) => peak * Math.cos((2 * Math.PI * index) / steps);
  let began = from;
  for (let halves = 0; halves < mostHalves; halves += 1) {
    let instants = began;
    for (let index = 1; index <= steps / 2; index += 1) instants = step(circuit, instants, sourceAt(index), h).instants;
    const next = mirror(instants);
    const isSteady = halves > 2 && miss(began, next) < closeEnough;
    const oneSided = (began.flux[1] - next.flux[1]) / 2;
    began = { ...next, flux: [next.flux[0] + oneSided, next.flux[1] + oneSided] };
    if (isSteady) break;
  }
  return sampled(circuit, began, sourceAt, steps, h);
}

const mirror = ({ flux: [before, now], amps }: Instants): Instants => ({
  flux: [-before, -now],
  amps: amps.map(([older, newer]) => [-older, -newer] as const),
});

/** How far one beginning is from the other, as a share of what is there. */
function miss(one: Instants, other: Instants): number {
  const apart = (a: number, b: number) => Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b), 1e-9);
  const amps = one.amps.map(([, newer], index) => apart(newer, other.amps[index]?.[1] ?? 0));
  return Math.max(apart(one.flux[1], other.flux[1]), ...amps);
}

function sampled(
  circuit: Circuit,
  from: Instants,
  sourceAt: (index: number) => number,
  steps: number,
  h: number,
): Period {
  const angular = 2 * Math.PI * circuit.hertz;
  const source: number[] = [];
  const flux: number[] = [];
  const voltsPerTurn: number[] = [];
  const ironWatts: number[] = [];
  const amps = from.amps.map((): number[] => []);
  let instants = from;
  for (let index = 1; index <= steps; index += 1) {
    const stepped = step(circuit, instants, sourceAt(index), h);
    ({ instants } = stepped);
    const [, now] = instants.flux;
    source.push(sourceAt(index));
    flux.push(now);
    voltsPerTurn.push(stepped.rate);
    ironWatts.push(losing(circuit.iron, now, stepped.rate, angular).value * stepped.rate);
    instants.amps.forEach(([, coilAmps], coil) => amps[coil]?.push(coilAmps));
  }
  return { hertz: circuit.hertz, began: from, source, flux, voltsPerTurn, amps, ironWatts };
}
