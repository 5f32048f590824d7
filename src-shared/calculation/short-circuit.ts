import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, refuse, worked, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { group, measured, optional } from './field.ts';

const input = group({
  volts: measured({ label: 'Volts into the short', unit: 'V', above: 0 }),
  amps: measured({ label: 'Amps', unit: 'A', above: 0 }),
  watts: optional(
    measured({ label: 'Watts', unit: 'W', above: 0, help: 'Left out: resistance and reactance are not told apart.' }),
  ),
  celsius: optional(measured({ label: 'Temperature of the windings', unit: '°C', atLeast: -60, atMost: 300 })),
});
type ShortInput = v.InferOutput<typeof input>;

export interface ShortCircuitResults {
  /** Both windings together, on the side that was fed. */
  readonly impedance: PhysicalResult;
  readonly resistance?: PhysicalResult;
  readonly reactance?: PhysicalResult;
  readonly powerFactor?: PhysicalResult;
}

function run({ volts, amps, watts, celsius }: ShortInput) {
  const n = (value: number) => formatNumber(value, 6);
  const impedance = propagate({ volts, amps }, (each) => each.volts / each.amps);
  const first = line('Z', 'U / I', `${n(volts.value)} / ${n(amps.value)}`, impedance.value, 'Ω');
  const cautions = [
    caution('shunts', 'With magnetic shunts in, it holds at the current of the test only: they saturate.'),
    ...(celsius === undefined
      ? [caution('temperature-not-given', 'The resistance is at a temperature that was not noted: warm it is higher.')]
      : []),
  ];
  if (watts === undefined) {
    return worked<ShortCircuitResults>(
      { impedance: physical('Ω', impedance) },
      [first],
      [...cautions, caution('not-apart', 'Without watts resistance and reactance cannot be told apart.')],
    );
  }
  // A hair over, so that a purely resistive pair is not refused for rounding.
  if (watts.value > volts.value * amps.value * (1 + 1e-9)) {
    return refuse('conflict', 'The watts would be more than volts × amps.', 'watts');
  }
  const tree = { volts, amps, watts };
  const resistance = propagate({ watts, amps }, (each) => each.watts / each.amps ** 2);
  const reactance = propagate(tree, (each) =>
    Math.sqrt(Math.max(0, (each.volts / each.amps) ** 2 - (each.watts / each.amps ** 2) ** 2)),
  );
  const factor = propagate(tree, (each) => each.watts / (each.volts * each.amps));
  return worked<ShortCircuitResults>(
    {
      impedance: physical('Ω', impedance),
      resistance: physical('Ω', resistance),
      reactance: physical('Ω', reactance),
      powerFactor: physical('', factor),
    },
    [
      first,
      line('R', 'P / I²', `${n(watts.value)} / ${n(amps.value)}²`, resistance.value, 'Ω'),
      line('X', '√(Z² − R²)', `√(${n(impedance.value)}² − ${n(resistance.value)}²)`, reactance.value, 'Ω'),
      line('cos φ', 'P / (U I)', `${n(watts.value)} / (${n(volts.value)} × ${n(amps.value)})`, factor.value, ''),
    ],
    cautions,
  );
}

export const shortCircuit = defineCalculation({
  name: 'short-circuit',
  title: 'Impedance from a short-circuit test',
  version: 1,
  sources: ['Short-circuit test: Theraja, A Textbook of Electrical Technology, vol. II, ch. 32'],
  input,
  example: {
    volts: { value: 14.2, u: 0.1 },
    amps: { value: 4, u: 0.04 },
    watts: { value: 38, u: 0.5 },
    celsius: { value: 22, u: 0.6 },
  },
  run,
});
