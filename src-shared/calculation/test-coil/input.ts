import type * as v from 'valibot';
import { choice, flag, group, list, measured, optional, wholeNumber } from '../field.ts';

/** Where the test coil sits. Only the first is fit for a final count. */
const positions = ['primary-side', 'beyond-shunts', 'outer-limb'] as const;
const meterKinds = ['true-rms', 'average'] as const;

const reading = group({
  coilTurns: wholeNumber({
    label: 'Turns of the test coil',
    help: 'Whole turns: passes through one window, with both leads leaving on the same side.',
    atLeast: 1,
    atMost: 10_000,
  }),
  coilVolts: measured({ label: 'Test-coil volts', unit: 'V', above: 0 }),
  primaryVolts: measured({ label: 'Primary volts', unit: 'V', above: 0 }),
  primaryVoltsAfter: optional(
    measured({
      label: 'Primary volts, read again after the coil',
      unit: 'V',
      above: 0,
      help: 'The mean of the two is used, and their difference counts as drift.',
    }),
  ),
  swapped: optional(
    flag({
      label: 'Meters exchanged',
      help: 'Read with the two meters exchanged on the same ranges: their gains cancel in the geometric mean.',
    }),
    false,
  ),
  position: optional(
    choice(positions, {
      label: 'Where the coil sits',
      help: 'Beyond magnetic shunts it reads low; round an outer limb it sees half the flux.',
    }),
    'primary-side',
  ),
  coilMeterKind: optional(choice(meterKinds, { label: 'Kind of the meter on the coil' })),
  primaryMeterKind: optional(choice(meterKinds, { label: 'Kind of the meter on the primary' })),
  coilRangeVolts: optional(measured({ label: 'Range of the meter on the coil', unit: 'V', above: 0 })),
});

export const testCoilInput = group({
  readings: list(reading, { label: 'Readings', atMost: 100 }),
  hertz: optional(measured({ label: 'Frequency at the coil', unit: 'Hz', above: 0 })),
  noLoadAmps: optional(measured({ label: 'No-load current at these volts', unit: 'A', atLeast: 0 })),
  noLoadWatts: optional(measured({ label: 'No-load power at these volts', unit: 'W', atLeast: 0 })),
  primaryOhms: optional(measured({ label: 'Primary resistance', unit: 'Ω', atLeast: 0 })),
  primaryReactanceOhms: optional(measured({ label: 'Primary leakage reactance', unit: 'Ω', atLeast: 0 })),
});

export type TestCoilInput = v.InferOutput<typeof testCoilInput>;
export type TestCoilReading = TestCoilInput['readings'][number];
