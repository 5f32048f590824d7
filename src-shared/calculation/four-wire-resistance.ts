import type * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { metals, temperatureConstant } from './conductor.ts';
import { choice, group, measured, optional } from './field.ts';

const input = group({
  amps: measured({ label: 'Direct current', unit: 'A', above: 0 }),
  volts: measured({ label: 'Volts inside the current clips', unit: 'V', above: 0 }),
  voltsReversed: optional(
    measured({ label: 'Volts with the current reversed', unit: 'V', help: 'With its sign: below 0.' }),
  ),
  celsius: measured({ label: 'Temperature of the winding', unit: '°C', atLeast: -60, atMost: 300 }),
  metal: optional(choice(metals, { label: 'Metal of the winding' })),
  ratedAmps: optional(measured({ label: 'Rated current of the winding', unit: 'A', above: 0 })),
});
type FourWireInput = v.InferOutput<typeof input>;

export interface FourWireResults {
  readonly ohms: PhysicalResult;
  readonly ohmsAt20: PhysicalResult;
  /** What the contacts add as thermocouples; only with both polarities. */
  readonly thermoVolts?: PhysicalResult;
}

/** Above this part of the rated current the reading itself warms the winding (IEC 60076-1, practice). */
const ratedPart = 0.15;

function cautionsOf({ amps, voltsReversed, metal, ratedAmps }: FourWireInput): readonly Caution[] {
  return [
    ...(voltsReversed === undefined
      ? [
          caution(
            'one-polarity',
            'With one polarity only, the contacts as thermocouples are in the reading: some microvolts that nobody took off.',
          ),
        ]
      : []),
    ...(metal === undefined
      ? [caution('metal-not-given', 'The metal is not known: the value at 20 °C allows for copper and aluminium.')]
      : []),
    ...(ratedAmps !== undefined && amps.value > ratedPart * ratedAmps.value
      ? [caution('warms-itself', 'Over 15 % of the rated current the reading itself warms the winding.')]
      : []),
    caution(
      'kick',
      'Breaking this current can give a sharp kick on every other winding. Bring it to zero first; keep hands off all ends.',
    ),
    caution('core-magnetised', 'Direct current leaves the core magnetised: the next switch-on surges more.'),
  ];
}

function run(given: FourWireInput) {
  const { amps, volts, voltsReversed, celsius, metal } = given;
  if (voltsReversed !== undefined && voltsReversed.value >= 0) {
    return refuse(
      'conflict',
      'With the current reversed the volts must come out below 0: give them with their sign.',
      'voltsReversed',
    );
  }
  const constant = temperatureConstant(metal);
  const tree = { amps, volts, celsius, constant, ...(voltsReversed === undefined ? {} : { voltsReversed }) };
  type Each = { readonly amps: number; readonly volts: number; readonly voltsReversed?: number };
  const ohm = (each: Each) =>
    each.voltsReversed === undefined ? each.volts / each.amps : (each.volts - each.voltsReversed) / (2 * each.amps);
  const ohms = propagate(tree, ohm);
  const at20 = propagate(tree, (each) => (ohm(each) * (each.constant + 20)) / (each.constant + each.celsius));
  const results: FourWireResults = {
    ohms: physical('Ω', ohms),
    ohmsAt20: physical('Ω', at20),
    ...(voltsReversed === undefined
      ? {}
      : {
          thermoVolts: physical(
            'V',
            propagate({ volts, voltsReversed }, (each) => (each.volts + each.voltsReversed) / 2),
          ),
        }),
  };
  const n = (value: number) => formatNumber(value, 6);
  const i = n(amps.value);
  const first =
    voltsReversed === undefined
      ? line('R', 'U / I', `${n(volts.value)} / ${i}`, ohms.value, 'Ω')
      : line(
          'R',
          '(U+ − U−) / (2 I)',
          `(${n(volts.value)} − (${n(voltsReversed.value)})) / (2 × ${i})`,
          ohms.value,
          'Ω',
        );
  const k = n(constant.value);
  return worked(
    results,
    [
      first,
      line(
        'R20',
        'R × (K + 20) / (K + θ)',
        `${n(ohms.value)} × (${k} + 20) / (${k} + ${n(celsius.value)})`,
        at20.value,
        'Ω',
      ),
    ],
    cautionsOf(given),
  );
}

export const fourWireResistance = defineCalculation({
  name: 'four-wire-resistance',
  title: 'Resistance of a winding with four wires',
  version: 1,
  sources: [
    'Ohm’s law, both polarities against thermocouple voltages: any text on measurement',
    'To 20 °C with 234.5 (copper) and 225 (aluminium): IEC 60076-2:2011',
  ],
  input,
  example: {
    amps: { value: 1.5, u: 0.005 },
    volts: { value: 0.0183, u: 0.00005 },
    voltsReversed: { value: -0.0181, u: 0.00005 },
    celsius: { value: 22, u: 0.5 },
    metal: 'copper',
    ratedAmps: 40,
  },
  run,
});
