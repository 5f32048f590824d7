import { acAmps, acVolts, ambient, coreCelsius, lineAmps, primaryVolts } from './channels.ts';
import { ampsBound, fedBound, proposed, timesOf } from './bound.ts';
import { numberOf, type Answers, type Field } from './field.ts';
import { whileOn } from './heat.ts';
import { given, inputOf, ready, waiting, type RunMaterial } from './material.ts';
import { coreStaysCool, expectationAsks, expectationMissing, expectationSeen, turnsAddedRuledOut } from './no-load.ts';
import { inOrder, poweredCautions, usual, type Procedure } from './procedure.ts';

const rectangular = Math.sqrt(3);

const resistorAsks: readonly Field[] = [
  {
    id: 'resistorOhms',
    label: 'Resistor, warm',
    hint: 'A heater does: measure it at once after use.',
    required: true,
    kind: 'number',
    unit: 'Ω',
    atLeast: 0.01,
    atMost: 100_000,
  },
  {
    id: 'resistorPercent',
    label: 'Good to',
    hint: 'Half-width. Left empty the doubt of the watts is not known.',
    required: false,
    kind: 'number',
    unit: '%',
    atLeast: 0,
    atMost: 50,
  },
];

function resistor(answers: Answers) {
  const value = numberOf(answers, 'resistorOhms') ?? 0;
  const percent = numberOf(answers, 'resistorPercent');
  return { value, u: percent === null ? null : (value * percent) / 100 / rectangular, shape: 'rectangular' };
}

const common = {
  ...usual,
  step: 'prove',
  energised: true,
  checklists: () => ['B', 'N'],
  ruledOut: turnsAddedRuledOut,
  refuses: (_bench, answers) => expectationMissing(answers),
  seen: expectationSeen,
  cautions: [...poweredCautions, 'c-hot'],
  keeps: 'points',
  calculation: 'power-without-wattmeter',
} as const satisfies Partial<Procedure>;

const limitsFor =
  (amps: string, list: 'N' | 'S' | 'H' = 'N'): Procedure['limits'] =>
  (bench, touchVolts, answers) =>
    proposed(
      [
        fedBound('primary-volts', bench, touchVolts),
        ampsBound(amps, bench, numberOf(answers, 'expectedAmps'), 1.5),
        { ...coreStaysCool },
      ],
      timesOf(list),
    );

/** P from three currents: a resistor across the line beside the primary. Keeps the volts of the core a sine. */
export const wattsByAmmeters: Procedure = {
  ...common,
  id: 'watts-three-ammeters',
  title: 'Watts from three currents',
  purpose: 'The no-load loss with a known resistor across the line and one clamp, read three times.',
  channels: [
    acAmps('total-amps', 'Amps of both together', { required: true }),
    acAmps('resistor-amps', 'Amps of the resistor', { required: true }),
    acAmps('load-amps', 'Amps of the transformer', { required: true }),
    primaryVolts,
  ].map((channel) => (channel.id === 'primary-volts' ? { ...channel, required: false } : channel)),
  oneMeterWillDo: true,
  asks: [...expectationAsks, ...resistorAsks],
  limits: limitsFor('load-amps'),
  steps: () =>
    inOrder(
      'Resistor across the line, beside the primary: a heater of about the same current is best.',
      'One clamp on one locked range, moved: both together, resistor alone, transformer alone. Keep each when it has settled.',
      'Its gain cancels for the most part; three meters of 2 % are four times worse.',
    ),
  work: ({ points, answers }) => {
    const point = points.at(-1);
    return point === undefined
      ? waiting('No point is kept yet.')
      : ready('power-without-wattmeter', {
          method: 'three-ammeter',
          threeAmmeter: {
            totalAmps: inputOf(point, 'total-amps'),
            resistorAmps: inputOf(point, 'resistor-amps'),
            loadAmps: inputOf(point, 'load-amps'),
            resistorOhms: resistor(answers),
          },
        });
  },
};

/** P from three voltages: a resistor in series with the primary. Bends the volts of the core. */
export const wattsByVoltmeters: Procedure = {
  ...common,
  id: 'watts-three-voltmeters',
  title: 'Watts from three voltages',
  purpose: 'The no-load loss with a known resistor in series, read across supply, resistor and transformer.',
  channels: [
    acVolts('supply-volts', 'Supply volts', { required: true }),
    acVolts('resistor-volts', 'Volts of the resistor', { required: true }),
    { ...primaryVolts, label: 'Volts of the transformer' },
  ],
  oneMeterWillDo: true,
  asks: [...expectationAsks, ...resistorAsks],
  limits: (bench, touchVolts) => proposed([fedBound('primary-volts', bench, touchVolts)], timesOf('N')),
  steps: () =>
    inOrder(
      'Resistor in series with the primary: it takes a third of the volts or so.',
      'True-rms meter: supply, resistor, transformer, on one locked range. Power off while the clips are moved.',
      'It bends the volts of the core: take it as a check beside another way.',
    ),
  work: ({ points, answers }) => {
    const point = points.at(-1);
    return point === undefined
      ? waiting('No point is kept yet.')
      : ready('power-without-wattmeter', {
          method: 'three-voltmeter',
          threeVoltmeter: {
            supplyVolts: inputOf(point, 'supply-volts'),
            resistorVolts: inputOf(point, 'resistor-volts'),
            loadVolts: inputOf(point, 'primary-volts'),
            resistorOhms: resistor(answers),
          },
        });
  },
};

/** P from an energy counter over a long time, or from the flashes of a house meter. */
export const wattsByCounter: Procedure = {
  ...common,
  id: 'watts-energy-counter',
  title: 'Watts from an energy counter',
  purpose: 'The no-load loss from what a plug-in counter or the house meter counted in a time.',
  channels: [primaryVolts, lineAmps],
  asks: [...expectationAsks],
  fields: [
    { id: 'seconds', label: 'Time counted over', required: true, kind: 'number', unit: 's', atLeast: 1, atMost: 1e6 },
    {
      id: 'kilowattHours',
      label: 'Energy counted',
      required: false,
      kind: 'number',
      unit: 'kWh',
      atLeast: 0,
      atMost: 1000,
    },
    {
      id: 'step',
      label: 'Last digit of the counter',
      required: false,
      kind: 'number',
      unit: 'kWh',
      atLeast: 0,
      atMost: 1,
    },
    { id: 'flashes', label: 'Flashes counted', required: false, kind: 'number', unit: '', atLeast: 1, atMost: 1e6 },
    {
      id: 'flashesPerKilowattHour',
      label: 'Flashes per kWh on the meter',
      required: false,
      kind: 'number',
      unit: '',
      atLeast: 1,
      atMost: 100_000,
    },
  ],
  limits: (bench, touchVolts, answers) => ({
    ...limitsFor('line-amps', 'H')(bench, touchVolts, answers),
  }),
  steps: () =>
    inOrder(
      'Counter in the plug, nothing else on it. Two hours at 0.01 kWh steps give 2 W of doubt.',
      'House meter: everything else in the house off, count flashes against a watch.',
      'The watts that such a counter shows at once are far off at a poor power factor: use its energy.',
    ),
  work: ({ points }) => {
    const point = points.at(-1);
    return point === undefined
      ? waiting('No point is kept yet.')
      : ready('power-without-wattmeter', {
          method: 'energy-counter',
          energyCounter: {
            ...given('kilowattHours', numberOf(point.fields, 'kilowattHours')),
            ...given('stepKilowattHours', numberOf(point.fields, 'step')),
            ...given('flashes', numberOf(point.fields, 'flashes')),
            ...given('flashesPerKilowattHour', numberOf(point.fields, 'flashesPerKilowattHour')),
            seconds: numberOf(point.fields, 'seconds') ?? 0,
          },
        });
  },
};

function slope(material: RunMaterial) {
  const readings = whileOn(material, coreCelsius.id);
  const [first, last] = [readings[0], readings.at(-1)];
  if (first === undefined || last === undefined || last.atMs - first.atMs < 60_000) {
    return waiting('It needs a minute of core temperature, better three, straight after power on.');
  }
  const kelvin = last.value - first.value;
  if (!(kelvin > 0)) return waiting('The core has not warmed yet.');
  const u = first.u === null || last.u === null ? null : Math.hypot(first.u, last.u);
  return ready('power-without-wattmeter', {
    method: 'heat-slope',
    heatSlope: {
      ironKg: numberOf(material.answers, 'ironKg') ?? 0,
      copperKg: numberOf(material.answers, 'copperKg') ?? 0,
      kelvin: { value: kelvin, u },
      seconds: (last.atMs - first.atMs) / 1000,
    },
  });
}

const kilograms = (id: string, label: string): Field => ({
  id,
  label,
  required: true,
  kind: 'number',
  unit: 'kg',
  atLeast: 0,
  atMost: 500,
});

/** P from how fast the iron warms in the first minutes: a cross-check. */
export const wattsByHeat: Procedure = {
  ...common,
  id: 'watts-heat-slope',
  title: 'Watts from how fast it warms',
  purpose: 'A cross-check of the loss from the first minutes of warming: good to a quarter.',
  channels: [primaryVolts, lineAmps, { ...coreCelsius, required: true }, ambient],
  asks: [...expectationAsks, kilograms('ironKg', 'Iron'), kilograms('copperKg', 'Copper')],
  limits: (bench, touchVolts, answers) => limitsFor('line-amps', 'S')(bench, touchVolts, answers),
  steps: () =>
    inOrder(
      'The whole thing at room temperature. Bead under tape on the iron, not on the frame.',
      'Power on and let it record for three minutes or so: 60 W warm 5 kg by 1.6 K a minute.',
      'Later the heat that leaves counts too: the longer, the lower it reads.',
    ),
  keeps: 'readings',
  continuous: [coreCelsius.id],
  work: slope,
};
