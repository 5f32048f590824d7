import { finalTemperatures } from '../heating.ts';
import { observe, type PracticeBench } from '../observed.ts';

/** A current by the hidden truth, in A, and how it goes with the volts: in the power `exponent` of them. */
export interface TrueCurrent {
  readonly amps: number;
  readonly exponent: number;
}

/** A settled state, with the volts at the ends of the fed winding. */
interface Fed {
  readonly supplyVolts: number;
  readonly volts: number;
  readonly amps: number;
}

function fedWith(bench: PracticeBench, supplyVolts: number): Fed | null {
  const observed = observe({ ...bench, isOn: true, supply: { ...bench.supply, volts: supplyVolts } });
  const volts = observed?.volts[bench.fedWindingId]?.rms;
  return observed === null || volts === undefined ? null : { supplyVolts, volts, amps: observed.lineAmps.rms };
}

/** So near to the volts that are asked for a power law carries the current over without a word. */
const nearEnough = 5e-3;
/** A stiff supply is near at once; through a lamp it takes a few. */
const mostTries = 12;

/**
 * The current that a bench truly draws at so many volts at the ends of its fed winding; null where nothing is fed or a soft
 * supply does not get there. By settled states near to it and one per cent higher, and a power law between them.
 */
export function currentAt(bench: PracticeBench, volts: number): TrueCurrent | null {
  let near = fedWith(bench, volts);
  for (let tries = 0; tries < mostTries && near !== null && Math.abs(near.volts / volts - 1) > nearEnough; tries += 1) {
    near = fedWith(bench, (near.supplyVolts * volts) / near.volts);
  }
  if (near === null || Math.abs(near.volts / volts - 1) > nearEnough) return null;
  const higher = fedWith(bench, near.supplyVolts * 1.01);
  if (higher === null) return null;
  const exponent = Math.log(higher.amps / near.amps) / Math.log(higher.volts / near.volts);
  return { amps: near.amps * (volts / near.volts) ** exponent, exponent };
}

/** Losses move little with the temperature: after so many rounds the end moves by less than a hundredth of a kelvin. */
const rounds = 3;

/** Where the core of a bench truly ends with power on, in °C; null where nothing is fed. */
export function finalCoreCelsius(bench: PracticeBench): number | null {
  let { temperatures } = bench;
  for (let round = 0; round < rounds; round += 1) {
    const observed = observe({ ...bench, isOn: true, temperatures });
    if (observed === null) return null;
    const watts = { winding: observed.windingHeat, core: observed.coreHeat };
    temperatures = finalTemperatures(bench.transformer.heating, watts, bench.roomCelsius);
  }
  return temperatures.core;
}
