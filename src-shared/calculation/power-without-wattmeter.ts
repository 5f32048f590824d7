import type * as v from 'valibot';
import { assertNever } from '../quantity/assert-never.ts';
import type { Propagated } from '../quantity/combine.ts';
import { exact, rectangular, type Estimate } from '../quantity/estimate.ts';
import { formatNumber } from '../quantity/format.ts';
import { propagate } from '../quantity/propagate.ts';
import { caution, line, physical, refuse, worked } from './answer.ts';
import type { Caution, PhysicalResult, Refusal, WorkingLine } from './answer.ts';
import { defineCalculation } from './calculation.ts';
import { choice, group, measured, optional, plainNumber } from './field.ts';

const amps = (label: string) => measured({ label, unit: 'A', above: 0 });
const volts = (label: string) => measured({ label, unit: 'V', above: 0 });
const resistor = measured({ label: 'Resistance of the resistor, warm', unit: 'Ω', above: 0 });
const seconds = measured({ label: 'Time', unit: 's', above: 0 });

const threeAmmeter = group(
  {
    totalAmps: amps('Both together'),
    resistorAmps: amps('Resistor'),
    loadAmps: amps('Transformer'),
    resistorOhms: resistor,
  },
  {
    label: 'Three ammeters: a resistor across the line beside the primary',
    onlyWith: { key: 'method', choice: 'three-ammeter' },
  },
);
const threeVoltmeter = group(
  {
    supplyVolts: volts('Supply'),
    resistorVolts: volts('Resistor'),
    loadVolts: volts('Transformer'),
    resistorOhms: resistor,
  },
  {
    label: 'Three voltmeters: a resistor in series with the primary',
    onlyWith: { key: 'method', choice: 'three-voltmeter' },
  },
);
const energyCounter = group(
  {
    kilowattHours: optional(measured({ label: 'Energy counted', unit: 'kWh', above: 0 })),
    stepKilowattHours: optional(plainNumber({ label: 'Step of the counter', unit: 'kWh', above: 0 })),
    flashes: optional(measured({ label: 'Flashes counted', above: 0 })),
    flashesPerKilowattHour: optional(plainNumber({ label: 'Flashes per kWh', above: 0 })),
    seconds,
  },
  { label: 'Energy counter', onlyWith: { key: 'method', choice: 'energy-counter' } },
);
const heatSlope = group(
  {
    ironKg: measured({ label: 'Iron', unit: 'kg', above: 0 }),
    copperKg: measured({ label: 'Copper', unit: 'kg', atLeast: 0 }),
    kelvin: measured({ label: 'Warmer by', unit: 'K', above: 0 }),
    seconds,
  },
  { label: 'Heat slope in the first minutes', onlyWith: { key: 'method', choice: 'heat-slope' } },
);

const input = group({
  method: choice(['three-ammeter', 'three-voltmeter', 'energy-counter', 'heat-slope'], {
    label: 'Method',
    words: { 'three-ammeter': 'Three ammeters', 'three-voltmeter': 'Three voltmeters' },
  }),
  threeAmmeter: optional(threeAmmeter),
  threeVoltmeter: optional(threeVoltmeter),
  energyCounter: optional(energyCounter),
  heatSlope: optional(heatSlope),
});
type PowerInput = v.InferOutput<typeof input>;

export interface PowerWithoutWattmeterResults {
  readonly watts: PhysicalResult;
}

interface Found {
  readonly ok: true;
  readonly watts: Propagated;
  readonly working: readonly WorkingLine[];
  readonly cautions: readonly Caution[];
  /** The reading to look at when the power comes out below 0. */
  readonly path: string;
}

const n = ({ value }: Estimate) => formatNumber(value, 6);

function byAmmeters(given: v.InferOutput<typeof threeAmmeter>): Found {
  const watts = propagate(
    given,
    ({ totalAmps: i, resistorAmps: r, loadAmps: z, resistorOhms }) => (resistorOhms / 2) * (i ** 2 - r ** 2 - z ** 2),
  );
  const { totalAmps, resistorAmps, loadAmps, resistorOhms } = given;
  const numbers = `${n(resistorOhms)} / 2 × (${n(totalAmps)}² − ${n(resistorAmps)}² − ${n(loadAmps)}²)`;
  return {
    ok: true,
    watts,
    working: [line('P', 'R / 2 (I² − IR² − IZ²)', numbers, watts.value, 'W')],
    cautions: [
      caution('one-clamp', 'Read all three with one clamp on one range: then its gain nearly cancels.'),
      caution('true-rms', 'Holds for any wave with true-rms meters only.'),
    ],
    path: 'threeAmmeter.totalAmps',
  };
}

function byVoltmeters(given: v.InferOutput<typeof threeVoltmeter>): Found {
  const watts = propagate(
    given,
    ({ supplyVolts: s, resistorVolts: r, loadVolts: z, resistorOhms }) =>
      (s ** 2 - r ** 2 - z ** 2) / (2 * resistorOhms),
  );
  const { supplyVolts, resistorVolts, loadVolts, resistorOhms } = given;
  const numbers = `(${n(supplyVolts)}² − ${n(resistorVolts)}² − ${n(loadVolts)}²) / (2 × ${n(resistorOhms)})`;
  return {
    ok: true,
    watts,
    working: [line('P', '(US² − UR² − UZ²) / (2 R)', numbers, watts.value, 'W')],
    cautions: [
      caution('wave-bent', "The resistor bends the wave of the core's volts: the loss is that of the bent wave."),
      caution('true-rms', 'Holds for any wave with true-rms meters only.'),
    ],
    path: 'threeVoltmeter.supplyVolts',
  };
}

const joulesPerKilowattHour = 3.6e6;

function byCounter(given: v.InferOutput<typeof energyCounter>): Found | Refusal {
  const { kilowattHours, stepKilowattHours, flashes, flashesPerKilowattHour, seconds: time } = given;
  const path = 'energyCounter.seconds';
  const cautions = [caution('mean-power', 'This is the mean over the whole time: the transformer warms meanwhile.')];
  if (kilowattHours !== undefined) {
    if (flashes !== undefined) {
      return refuse('conflict', 'Give the energy counted or the flashes, not both.', 'energyCounter.flashes');
    }
    // Two readings, each cut to a step: their difference is off by a triangle of one step to either side.
    const step: Estimate = { ...exact(0), u: (stepKilowattHours ?? 0) / Math.sqrt(6), shape: 'triangular' };
    const watts = propagate(
      { kilowattHours, time, step },
      (each) => (joulesPerKilowattHour * (each.kilowattHours + each.step)) / each.time,
    );
    const noStep = caution('step-not-given', 'Without the step of the counter its rounding is not in the doubt.');
    return {
      ok: true,
      watts,
      working: [line('P', 'E / t', `3.6e6 × ${n(kilowattHours)} / ${n(time)}`, watts.value, 'W')],
      cautions: stepKilowattHours === undefined ? [...cautions, noStep] : cautions,
      path,
    };
  }
  if (flashes === undefined || flashesPerKilowattHour === undefined) {
    const key = flashes === undefined ? 'kilowattHours' : 'flashesPerKilowattHour';
    return refuse('missing-key', 'Give the energy counted, or flashes and flashes per kWh.', `energyCounter.${key}`);
  }
  const watts = propagate(
    { flashes, time },
    (each) => (joulesPerKilowattHour * each.flashes) / (flashesPerKilowattHour * each.time),
  );
  const numbers = `3.6e6 × ${n(flashes)} / (${formatNumber(flashesPerKilowattHour, 6)} × ${n(time)})`;
  return { ok: true, watts, working: [line('P', 'n / (k t)', numbers, watts.value, 'W')], cautions, path };
}

/** J/(kg K), of iron and copper at room temperature. */
const heatOf = { iron: 460, copper: 385 };
/** Heat that leaves, and a surface that lags: good to a quarter (common practice). */
const slopeAllowance = 0.25;

function byHeat(given: v.InferOutput<typeof heatSlope>): Found {
  const tree = { ...given, lag: rectangular(1, slopeAllowance) };
  const watts = propagate(
    tree,
    (each) => (each.lag * (each.ironKg * heatOf.iron + each.copperKg * heatOf.copper) * each.kelvin) / each.seconds,
  );
  const numbers = `(${n(given.ironKg)} × 460 + ${n(given.copperKg)} × 385) × ${n(given.kelvin)} / ${n(given.seconds)}`;
  return {
    ok: true,
    watts,
    working: [line('P', '(mFe cFe + mCu cCu) Δθ / t', numbers, watts.value, 'W')],
    cautions: [caution('cross-check', 'A cross-check only, good to 15 to 25 %: the surface lags, and heat leaves.')],
    path: 'heatSlope.kelvin',
  };
}

function found({
  method,
  threeAmmeter: a,
  threeVoltmeter: u,
  energyCounter: e,
  heatSlope: h,
}: PowerInput): Found | Refusal {
  const missing = (key: string) => refuse('missing-key', 'The readings of the method chosen are not there.', key);
  switch (method) {
    case 'three-ammeter':
      return a === undefined ? missing('threeAmmeter') : byAmmeters(a);
    case 'three-voltmeter':
      return u === undefined ? missing('threeVoltmeter') : byVoltmeters(u);
    case 'energy-counter':
      return e === undefined ? missing('energyCounter') : byCounter(e);
    case 'heat-slope':
      return h === undefined ? missing('heatSlope') : byHeat(h);
    default:
      return assertNever(method);
  }
}

function run(given: PowerInput) {
  const by = found(given);
  if (!by.ok) return by;
  if (!(by.watts.value > 0)) {
    return refuse(
      'conflict',
      'These readings give no power at all, or less: two are exchanged, or one is wrong.',
      by.path,
    );
  }
  const results: PowerWithoutWattmeterResults = { watts: physical('W', by.watts) };
  return worked(results, by.working, by.cautions);
}

export const powerWithoutWattmeter = defineCalculation({
  name: 'power-without-wattmeter',
  title: 'Watts without a wattmeter',
  version: 1,
  sources: [
    'Three ammeters and three voltmeters: Golding and Widdis, Electrical Measurements and Measuring Instruments',
    'Heat slope: calorimetry; its allowance of a quarter: common practice, no source',
  ],
  input,
  example: {
    method: 'three-ammeter',
    threeAmmeter: {
      totalAmps: { value: 3.162, u: 0.003, shared: { id: 'clamp', u: 0.03 } },
      resistorAmps: { value: 2, u: 0.003, shared: { id: 'clamp', u: 0.019 } },
      loadAmps: { value: 2, u: 0.003, shared: { id: 'clamp', u: 0.019 } },
      resistorOhms: { value: 60, u: 0.3 },
    },
  },
  run,
});
