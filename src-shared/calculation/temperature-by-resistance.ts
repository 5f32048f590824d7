import type * as v from 'valibot';
import { exact } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, refuse, worked, type Caution, type PhysicalResult } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { conductors, metals } from './conductor.ts';
import { choice, group, measured, optional } from './field.ts';

const input = group({
  coldOhms: measured({
    label: 'Cold resistance',
    unit: 'Ω',
    above: 0,
    help: 'After hours at rest in the room; same leads, same pair of ends as hot.',
  }),
  coldCelsius: measured({ label: 'Winding temperature when cold', unit: '°C', atLeast: -60, atMost: 300 }),
  hotOhms: measured({ label: 'Hot resistance', unit: 'Ω', above: 0 }),
  ambientCelsius: measured({
    label: 'Ambient at the end of the run',
    unit: '°C',
    atLeast: -60,
    atMost: 300,
    help: 'The rise is counted from this one, not from the room at the cold reading.',
  }),
  metal: optional(choice(metals, { label: 'Metal of the winding' })),
  constantCelsius: optional(
    measured({
      label: 'Temperature constant',
      unit: '°C',
      atLeast: 150,
      atMost: 400,
      help: 'In place of the metal: 1 / α₀, where resistance would be none.',
    }),
  ),
});
type RiseInput = v.InferOutput<typeof input>;

export interface TemperatureByResistanceResults {
  /** Mean temperature of the winding when the hot resistance was read. */
  readonly hotCelsius: PhysicalResult;
  /** Above the ambient at the end of the run. */
  readonly rise: PhysicalResult;
}

/** From here on insulation of any common class is past its limit, and the straight line of the resistance bends. */
const linearUpTo = 250;
/** Under this, leads and clips of two wires weigh as much as the change that is looked for. */
const fourWireUnder = 2;

function cautionsOf({ coldOhms, ambientCelsius }: RiseInput, hot: number): readonly Caution[] {
  return [
    ...(hot > linearUpTo
      ? [
          caution(
            'outside-linear',
            `Over ${linearUpTo} °C resistance is no longer in a straight line with temperature, and no common insulation lives: look for a wrong reading.`,
          ),
        ]
      : []),
    ...(hot < ambientCelsius.value
      ? [caution('below-ambient', 'The winding comes out colder than the room: a reading was exchanged or is wrong.')]
      : []),
    ...(coldOhms.value < fourWireUnder
      ? [
          caution(
            'lead-resistance',
            `Under ${fourWireUnder} Ω only four-wire readings count: with two wires the leads are read too.`,
          ),
        ]
      : []),
    caution('mean-not-hot-spot', 'This is the mean of the whole winding: its hottest spot is hotter.'),
  ];
}

function run(given: RiseInput) {
  const { coldOhms, coldCelsius, hotOhms, ambientCelsius, metal, constantCelsius } = given;
  if (metal !== undefined && constantCelsius !== undefined) {
    return refuse('conflict', 'Give the metal, or its constant, not both.', 'constantCelsius');
  }
  const constant = metal === undefined ? constantCelsius : exact(conductors[metal].constantCelsius);
  if (constant === undefined) {
    return refuse(
      'missing-key',
      'Give the metal: copper and aluminium differ, and neither is taken silently.',
      'metal',
    );
  }
  const tree = { coldOhms, coldCelsius, hotOhms, ambientCelsius, constant };
  const hot = propagate(tree, (each) => {
    const ratio = each.hotOhms / each.coldOhms;
    return ratio * (each.constant + each.coldCelsius) - each.constant;
  });
  const rise = propagate(tree, (each) => {
    const ratio = each.hotOhms / each.coldOhms;
    return ratio * (each.constant + each.coldCelsius) - each.constant - each.ambientCelsius;
  });
  const n = (value: number) => formatNumber(value, 6);
  const k = n(constant.value);
  const ratioText = `${n(hotOhms.value)} / ${n(coldOhms.value)}`;
  const results: TemperatureByResistanceResults = { hotCelsius: physical('°C', hot), rise: physical('K', rise) };
  return worked(
    results,
    [
      line('θ2', 'R2 / R1 × (K + θ1) − K', `${ratioText} × (${k} + ${n(coldCelsius.value)}) − ${k}`, hot.value, '°C'),
      line('Δθ', 'θ2 − θa', `${n(hot.value)} − ${n(ambientCelsius.value)}`, rise.value, 'K'),
    ],
    cautionsOf(given, hot.value),
  );
}

export const temperatureByResistance = defineCalculation({
  name: 'temperature-by-resistance',
  title: 'How hot a winding is, by its resistance',
  version: 1,
  sources: [
    'Resistance method and the constants 234.5 (copper) and 225 (aluminium): IEC 60076-2:2011',
    'Rise above the ambient at the end of the run: IEC 60034-1',
  ],
  input,
  example: {
    coldOhms: { value: 3.42, u: 0.004 },
    coldCelsius: { value: 20, u: 0.5 },
    hotOhms: { value: 4.22, u: 0.005 },
    ambientCelsius: { value: 21, u: 0.5 },
    metal: 'copper',
  },
  run,
});
