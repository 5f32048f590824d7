import type * as v from 'valibot';
import { group, list, measured, optional, plainNumber, text } from '../field.ts';

const celsius = { unit: '°C', atLeast: -100, atMost: 2000 } as const;

/** What a value holds at. Left out: it does not matter to the value, or nobody noted it. */
export const conditionsInput = group(
  {
    volts: optional(measured({ label: 'Supply volts', unit: 'V', above: 0, help: 'The mean over the run.' })),
    hertz: optional(measured({ label: 'Frequency', unit: 'Hz', above: 0 })),
    amps: optional(measured({ label: 'Current', unit: 'A', atLeast: 0, help: 'Of the load, say, for a regulation.' })),
    celsius: optional(measured({ label: 'Temperature of the winding', ...celsius })),
    ambientCelsius: optional(measured({ label: 'Ambient at the end of the run', ...celsius })),
    startCelsius: optional(measured({ label: 'Temperature at the start', ...celsius })),
    testVolts: optional(
      measured({ label: 'Test voltage, d.c.', unit: 'V', above: 0, help: 'Of an insulation resistance.' }),
    ),
    meterKind: optional(text({ label: 'Kind of meter', help: 'True-rms or average-responding, as noted.' })),
    supplyKind: optional(text({ label: 'Kind of supply', help: 'Mains, through a lamp ..., as noted.' })),
  },
  { label: 'Conditions' },
);
export type Conditions = v.InferOutput<typeof conditionsInput>;

const item = group({
  quantity: text({ label: 'What it is', help: 'The same name in both sets.' }),
  unit: optional(text({ label: 'Unit', help: 'Left out: a ratio or a count.' })),
  value: measured({ label: 'Value' }),
  parts: optional(
    list(
      group({
        id: optional(
          text({
            label: 'What it is shared with',
            help: 'One meter on one range, say: the same id in both sets. Left out: its own.',
          }),
        ),
        u: plainNumber({ label: 'What it gives to the value, with its sign' }),
        dof: optional(plainNumber({ label: 'Degrees of freedom, where few', atLeast: 1 })),
      }),
      {
        label: 'Further parts of its doubt',
        help: 'For a result in which several meters had a part: on top of the u of the value.',
        atMost: 50,
      },
    ),
  ),
  voltsExponent: optional(
    measured({
      label: 'Power of the supply volts that it goes with',
      atLeast: -20,
      atMost: 20,
      help: 'From the no-load curve, near the working point: the values are then brought to the same volts.',
    }),
  ),
  conditions: optional(conditionsInput),
});

const set = (label: string) =>
  group(
    {
      name: optional(text({ label: 'Name of the build' })),
      joint: optional(text({ label: 'Joint of the core' })),
      shunts: optional(text({ label: 'Magnetic shunts' })),
      conditions: optional(conditionsInput),
      results: list(item, { label: 'Results', atMost: 200 }),
    },
    { label, help: 'Conditions here hold for every result that states none of its own.' },
  );

export const compareInput = group({ before: set('Before'), after: set('After') });
export type CompareInput = v.InferOutput<typeof compareInput>;
export type ResultSet = CompareInput['before'];
export type Item = ResultSet['results'][number];
