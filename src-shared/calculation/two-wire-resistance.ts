import type * as v from 'valibot';
import { exact } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, refuse, worked, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { metals, temperatureConstant } from './conductor.ts';
import { choice, group, measured, optional } from './field.ts';

const input = group({
  ohms: measured({ label: 'Ohms by two wires', unit: 'Ω', above: 0, atMost: 1e9 }),
  leadOhms: optional(
    measured({ label: 'Leads held together', unit: 'Ω', atLeast: 0, help: 'Left out: they are still in the reading.' }),
  ),
  celsius: measured({ label: 'Temperature of the winding', unit: '°C', atLeast: -60, atMost: 300 }),
  metal: optional(choice(metals, { label: 'Metal of the winding' })),
});
type TwoWireInput = v.InferOutput<typeof input>;

export interface TwoWireResults {
  readonly ohms: PhysicalResult;
  readonly ohmsAt20: PhysicalResult;
}

/** Under this, leads and contacts are too much of the reading (common practice, no source). */
const fewestOhms = 2;

function run(given: TwoWireInput) {
  const { ohms: read, leadOhms = exact(0), celsius, metal } = given;
  if (read.value - leadOhms.value < fewestOhms) {
    return refuse(
      'outside-validity',
      `Under ${fewestOhms} ohm two wires are a check only: leads and contacts are too much of it. Read it with four.`,
      'ohms',
    );
  }
  const constant = temperatureConstant(metal);
  const tree = { read, leadOhms, celsius, constant };
  const ohms = propagate({ read, leadOhms }, (each) => each.read - each.leadOhms);
  const at20 = propagate(
    tree,
    (each) => ((each.read - each.leadOhms) * (each.constant + 20)) / (each.constant + each.celsius),
  );
  const results: TwoWireResults = { ohms: physical('Ω', ohms), ohmsAt20: physical('Ω', at20) };
  const n = (value: number) => formatNumber(value, 6);
  const k = n(constant.value);
  return worked(
    results,
    [
      line('R', 'R2 − RL', `${n(read.value)} − ${n(leadOhms.value)}`, ohms.value, 'Ω'),
      line(
        'R20',
        'R × (K + 20) / (K + θ)',
        `${n(ohms.value)} × (${k} + 20) / (${k} + ${n(celsius.value)})`,
        at20.value,
        'Ω',
      ),
    ],
    [
      ...(given.leadOhms === undefined
        ? [caution('leads-in-it', 'The leads are still in it: hold them together, read, and give that too.')]
        : []),
      ...(metal === undefined
        ? [caution('metal-not-given', 'The metal is not known: the value at 20 °C allows for copper and aluminium.')]
        : []),
    ],
  );
}

export const twoWireResistance = defineCalculation({
  name: 'two-wire-resistance',
  title: 'Resistance of a winding with two wires',
  version: 1,
  sources: [
    'Leads taken off, and two wires from 2 Ω up: common practice, no source',
    'To 20 °C with 234.5 (copper) and 225 (aluminium): IEC 60076-2:2011',
  ],
  input,
  example: {
    ohms: { value: 14.6, u: 0.1 },
    leadOhms: { value: 0.3, u: 0.1 },
    celsius: { value: 22, u: 0.6 },
    metal: 'copper',
  },
  run,
});
