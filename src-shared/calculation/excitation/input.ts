import type * as v from 'valibot';
import { choice, group, list, measured, optional, plainNumber, text, wholeNumber } from '../field.ts';

const meterKinds = ['true-rms', 'average'] as const;
/** As a session has them. */
export const supplyKinds = [
  'isolated-low-voltage',
  'mains',
  'mains-through-lamp',
  'variable-transformer',
  'isolating-transformer',
] as const;

const point = group({
  label: optional(
    text({ label: 'What it is called', help: 'A point off the curve is named by it; left out: by its number.' }),
  ),
  volts: measured({ label: 'Volts at the winding', unit: 'V', above: 0 }),
  amps: measured({ label: 'No-load current', unit: 'A', above: 0 }),
  watts: optional(measured({ label: 'No-load power', unit: 'W', above: 0 })),
  turns: optional(
    measured({
      label: 'Turns that carried the current',
      above: 0,
      atMost: 100_000,
      help: 'All turns in circuit at this point. Left out: the primary turns.',
    }),
  ),
  averageVolts: optional(
    measured({
      label: 'Volts by an average-responding meter',
      unit: 'V',
      above: 0,
      help: 'Flux follows the mean of the volts, so this reading is the better one where the wave is not a sine.',
    }),
  ),
  hertz: optional(measured({ label: 'Frequency', unit: 'Hz', above: 0, help: 'Left out: that of the prediction.' })),
  meterKind: optional(choice(meterKinds, { label: 'Kind of the meters' })),
  supplyKind: optional(choice(supplyKinds, { label: 'What fed it' })),
  coreState: optional(
    text({
      label: 'State of the core',
      help: 'In your words: as found, re-welded, shunts out, hot. One curve is one state.',
    }),
  ),
});

export const excitationInput = group({
  primaryTurns: measured({ label: 'Primary turns', above: 0, atMost: 100_000 }),
  points: list(point, { label: 'Points', atLeast: 2, atMost: 200 }),
  primaryOhms: optional(measured({ label: 'Resistance of the primary', unit: 'Ω', above: 0 })),
  supplyVolts: measured({ label: 'Supply volts to predict at', unit: 'V', above: 0 }),
  addedTurns: list(wholeNumber({ label: 'Added turns', atLeast: -100_000, atMost: 100_000 }), {
    label: 'Added turns to predict for',
    atMost: 50,
  }),
  hertz: optional(measured({ label: 'Frequency to predict at', unit: 'Hz', above: 0 })),
  ironAreaMm2: optional(
    measured({ label: 'Net iron area', unit: 'mm²', above: 0, help: 'Needed for the flux density.' }),
  ),
  limits: optional(
    group(
      {
        amps: optional(plainNumber({ label: 'Most amps', unit: 'A', above: 0 })),
        watts: optional(plainNumber({ label: 'Most watts', unit: 'W', above: 0 })),
        tesla: optional(plainNumber({ label: 'Most flux density', unit: 'T', above: 0 })),
      },
      { label: 'Limits to keep' },
    ),
  ),
  ohmsPerAddedTurn: optional(
    measured({
      label: 'Resistance of one added turn',
      unit: 'Ω',
      atLeast: 0,
      help: 'Left out: that of one turn of the primary.',
    }),
  ),
  coreState: optional(
    text({ label: 'State of the core to predict for', help: 'Left out: the one with the most points.' }),
  ),
});

export type ExcitationInput = v.InferOutput<typeof excitationInput>;
export type ExcitationPoint = ExcitationInput['points'][number];
