import type * as v from 'valibot';
import { metals } from '../conductor.ts';
import { choice, flag, group, list, measured, optional, plainNumber, wholeNumber } from '../field.ts';
import { ironFields } from '../iron.ts';
import { roomFields } from '../window-fit/input.ts';
import { standards } from './standard-wires.ts';
import { stockWire } from './stock.ts';
import { wireKinds } from './wire-option.ts';

/** Hardest that anybody winds for: 2 K/s and more, adiabatically. */
const absurdDensity = 20;

export const secondaryInput = group({
  primaryTurns: measured({ label: 'Turns on the primary', above: 0, atMost: 100_000 }),
  primaryVolts: measured({ label: 'Volts on the primary', unit: 'V', above: 0, atMost: 1000 }),
  hertz: optional(measured({ label: 'Line hertz', unit: 'Hz', atLeast: 10, atMost: 1000 })),
  primaryOhms: optional(measured({ label: 'Resistance of the primary', unit: 'Ω', above: 0, atMost: 1e5 })),
  primaryOhmsCelsius: optional(
    measured({ label: 'Temperature of that resistance', unit: '°C', atLeast: -30, atMost: 250 }),
    20,
  ),
  primaryMetal: optional(choice(metals, { label: 'Metal of the primary' })),
  primaryBareDiameterMm: optional(measured({ label: 'Bare wire of the primary', unit: 'mm', above: 0, atMost: 50 })),
  leakageOhms: optional(
    measured({ label: 'Leakage reactance, seen from the primary', unit: 'Ω', atLeast: 0, atMost: 1e5 }),
  ),
  terminationOhms: optional(
    measured({ label: 'Lugs and joints of the output, together', unit: 'Ω', atLeast: 0, atMost: 1000 }),
    0,
  ),
  loadVolts: measured({ label: 'Volts wanted under load', unit: 'V', above: 0, atMost: 1000 }),
  loadAmps: measured({ label: 'Amps of the load', unit: 'A', above: 0, atMost: 10_000 }),
  otherPrimaryAmps: optional(
    measured({
      label: 'Amps of other outputs, in the primary',
      help: 'What they draw through it while this one is loaded.',
      unit: 'A',
      atLeast: 0,
      atMost: 10_000,
    }),
    0,
  ),
  powerFactor: optional(plainNumber({ label: 'Power factor of the load', above: 0, atMost: 1 }), 1),
  sense: optional(choice(['lagging', 'leading'], { label: 'Current against the volts' }), 'lagging'),
  linePercent: optional(
    plainNumber({ label: 'Line high and low', unit: '%', help: 'Or the local figure.', atLeast: 0, atMost: 50 }),
    10,
  ),
  ...roomFields,
  tongueMm: ironFields.tongueMm,
  stackMm: ironFields.stackMm,
  stackingFactor: ironFields.stackingFactor,
  ironAreaMm2: ironFields.ironAreaMm2,
  meanTurnMm: optional(
    measured({
      label: 'Mean length of a turn, when known',
      help: 'Instead of tongue and stack.',
      unit: 'mm',
      above: 0,
      atMost: 1e5,
    }),
  ),
  mostTesla: optional(
    plainNumber({ label: 'Highest flux density', unit: 'T', help: '1.6 T for unknown steel.', above: 0, atMost: 2.2 }),
    1.6,
  ),
  wires: optional(list(stockWire, { label: 'Stock of wire', atMost: 200 })),
  standard: optional(choice(standards, { label: 'Standard sizes, without a stock' }), 'both'),
  kinds: optional(
    list(choice(wireKinds, { label: 'Kind of wire' }), {
      label: 'Kinds of wire to look at; all when left out',
      atMost: 3,
    }),
  ),
  mostStrands: optional(wholeNumber({ label: 'Most strands in hand', atLeast: 1, atMost: 8 }), 8),
  mostFill: optional(
    plainNumber({
      label: 'Part of the window that wire may fill, insulation included',
      help: '0.5 to 0.6 by hand, up to about 0.8 by machine (common practice).',
      above: 0,
      atMost: 1,
    }),
    0.6,
  ),
  maxCurrentDensity: optional(
    plainNumber({
      label: 'Highest current density',
      unit: 'A/mm²',
      help: 'To about 3.5 for hours, to about 6 for minutes; more only in short bursts (common practice).',
      above: 0,
      atMost: absurdDensity,
    }),
    5,
  ),
  celsius: optional(measured({ label: 'Windings under load', unit: '°C', atLeast: -30, atMost: 250 }), 75),
  leadsMm: optional(plainNumber({ label: 'Leads, both together', unit: 'mm', atLeast: 0, atMost: 100_000 }), 600),
  mostChoices: optional(wholeNumber({ label: 'Choices to list', atLeast: 1, atMost: 50 }), 12),
  over50Confirmed: optional(
    flag({ label: 'An output over 50 V is meant', help: 'Confirmed by the person for this build.' }),
    false,
  ),
});
export type SecondaryInput = v.InferOutput<typeof secondaryInput>;
