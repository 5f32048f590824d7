import type { PracticeMeter } from '../meter/description.ts';
import type { MeterRange } from '../meter/range.ts';

const volts = (
  coupling: 'ac' | 'dc',
  top: number,
  resolution: number,
  percentOfReading: number,
  digits: number,
): MeterRange => ({ unit: 'V', coupling, top, resolution, percentOfReading, digits, shape: 'rectangular' });

const common: Omit<PracticeMeter, 'label' | 'ranges'> = {
  kind: 'practice',
  responding: 'true-rms',
  scales: [],
  maxVolts: 600,
  category: 'CAT III 600 V',
  typicalIntervalMs: 400,
  unit: 'V',
  coupling: 'ac',
};

/** Two simulated meters that do not match, for the practice bench. Nothing that they show has been measured. */
export const practicePair: readonly PracticeMeter[] = [
  {
    ...common,
    label: 'Practice bench meter',
    crestFactor: 5,
    ranges: [
      volts('ac', 2, 0.0001, 0.7, 20),
      volts('ac', 20, 0.001, 0.7, 20),
      volts('ac', 200, 0.01, 0.7, 20),
      volts('ac', 600, 0.1, 0.7, 20),
      volts('dc', 20, 0.001, 0.1, 5),
      volts('dc', 200, 0.01, 0.1, 5),
    ],
  },
  {
    ...common,
    label: 'Practice pocket meter',
    ranges: [
      volts('ac', 2, 0.001, 1, 5),
      volts('ac', 20, 0.01, 1, 5),
      volts('ac', 200, 0.1, 1.2, 5),
      volts('ac', 600, 1, 1.2, 5),
      volts('dc', 20, 0.01, 0.5, 2),
      volts('dc', 200, 0.1, 0.5, 2),
    ],
  },
];

const range = (
  unit: PracticeMeter['unit'],
  coupling: PracticeMeter['coupling'],
  top: number,
  resolution: number,
  percentOfReading: number,
  digits: number,
): MeterRange => ({ unit, coupling, top, resolution, percentOfReading, digits, shape: 'rectangular' });

const further = (
  label: string,
  unit: PracticeMeter['unit'],
  coupling: PracticeMeter['coupling'],
  ranges: readonly MeterRange[],
  more: Partial<PracticeMeter> = {},
): PracticeMeter => ({ ...common, typicalIntervalMs: 500, label, unit, coupling, ranges: [...ranges], ...more });

/** The rest of what a bench can have, for procedures that read more than volts. Nothing that they show has been measured. */
export const furtherPracticeMeters: readonly PracticeMeter[] = [
  further('Practice ammeter', 'A', 'ac', [range('A', 'ac', 2, 0.001, 1, 5), range('A', 'ac', 20, 0.01, 1.2, 5)]),
  further('Practice clamp meter', 'A', 'ac', [range('A', 'ac', 60, 0.01, 2, 8)], { crestFactor: 2 }),
  further('Practice power meter', 'W', null, [range('W', null, 200, 0.1, 1, 2), range('W', null, 2000, 1, 1, 2)]),
  further('Practice thermometer', '°C', null, [range('°C', null, 400, 0.1, 0.3, 10)], { typicalIntervalMs: 1000 }),
  further('Practice ohmmeter', 'Ω', null, [
    range('Ω', null, 20, 0.001, 0.3, 5),
    range('Ω', null, 2000, 0.1, 0.3, 3),
    range('Ω', null, 2e9, 1e5, 3, 5),
    range('Ω', null, 2e5, 10, 0.5, 5),
    range('Ω', null, 2e7, 1e3, 1, 5),
  ]),
  further(
    'Practice average voltmeter',
    'V',
    'ac',
    [volts('ac', 20, 0.01, 1, 3), volts('ac', 200, 0.1, 1, 3), volts('ac', 600, 1, 1, 3)],
    { responding: 'average' },
  ),
  further(
    'Practice average ammeter',
    'A',
    'ac',
    [range('A', 'ac', 2, 0.001, 1.5, 5), range('A', 'ac', 20, 0.01, 1.5, 5)],
    { responding: 'average' },
  ),
];
