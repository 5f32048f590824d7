import type * as v from 'valibot';
import { choice, group, list, measured, optional, plainNumber } from '../field.ts';

export const bankInput = group({
  units: list(
    group({
      openVolts: measured({ label: 'Volts with no load', unit: 'V', above: 0 }),
      ohms: measured({ label: 'Resistance, primary referred', unit: 'Ω', above: 0 }),
      reactance: optional(measured({ label: 'Leakage reactance', unit: 'Ω', atLeast: 0, help: 'Left out: none.' })),
      ratedAmps: measured({ label: 'Rated current', unit: 'A', above: 0 }),
      phaseDegrees: optional(
        plainNumber({
          label: 'Phase in degrees',
          atLeast: -180,
          atMost: 180,
          help: 'Against the other units: 0 in step, 180 with its leads exchanged.',
        }),
        0,
      ),
    }),
    { label: 'Units', atLeast: 2, atMost: 20 },
  ),
  join: choice(['series', 'parallel'], { label: 'How they are joined' }),
  loadAmps: optional(measured({ label: 'Load current', unit: 'A', atLeast: 0 })),
  powerFactor: optional(plainNumber({ label: 'Power factor of the load', above: 0, atMost: 1 }), 1),
  sense: optional(choice(['lagging', 'leading'], { label: 'Sense', help: 'Coils lag, capacitors lead.' }), 'lagging'),
});
export type BankInput = v.InferOutput<typeof bankInput>;
