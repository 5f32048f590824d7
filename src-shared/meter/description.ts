import * as v from 'valibot';
import { amount, count, line, ofObject, oneOf } from './field.ts';
import { BareUnit, LineFormat, LineValue } from './line-format.ts';
import { PortSettings } from './port-settings.ts';
import { MeterRanges, Scales } from './range.ts';
import { couplings, meterUnits } from './unit.ts';

/** What every meter has, whichever way its values arrive. */
const common = {
  label: line('Label', 60),
  /** How its a.c. ranges get their value: by the heating effect, or from the rectified mean scaled for a sine. */
  responding: oneOf('Responding', ['true-rms', 'average', 'unknown']),
  ranges: MeterRanges,
  scales: Scales,
  /** The highest volts that meter and leads are rated for; null when not known. */
  maxVolts: v.nullable(amount('Highest rated volts', 1, 10_000, 'V')),
  /** The rating as printed beside the jacks, such as `CAT II 300 V`; null when there is none. */
  category: v.nullable(line('Category', 40)),
  /** How often a value is expected, in ms. A meter is called silent after three of these. */
  typicalIntervalMs: count('Typical interval', 20, 3_600_000, 'ms'),
} as const;

/** The meter sends by itself. */
const Listen = v.strictObject({ mode: v.literal('listen') }, ofObject('Talk'));

export const Talk = v.variant('mode', [Listen], 'Talk: the mode must be listen.');
export type Talk = v.InferOutput<typeof Talk>;

export const SerialMeter = v.strictObject(
  {
    kind: v.literal('serial'),
    ...common,
    port: PortSettings,
    talk: Talk,
    format: LineFormat,
    /** What stands on a line of several values; empty for a meter that sends one value a line. */
    values: v.pipe(
      v.array(LineValue, 'Values must be a list.'),
      v.maxLength(16, 'Values: at most 16.'),
      v.check((list) => new Set(list.map(({ name }) => name)).size === list.length, 'Values: each name only once.'),
    ),
    /** What a number without a unit is in; null: such a number is unreadable. */
    bareUnit: v.nullable(BareUnit),
    /** Whether the lead is isolated (light or transformer) between meter and computer. */
    linkIsolated: oneOf('Link isolated', ['yes', 'no', 'unknown']),
  },
  ofObject('Meter'),
);
export type SerialMeter = v.InferOutput<typeof SerialMeter>;

/** A meter whose values a person reads and types. */
export const KeyboardMeter = v.strictObject({ kind: v.literal('keyboard'), ...common }, ofObject('Meter'));
export type KeyboardMeter = v.InferOutput<typeof KeyboardMeter>;

/** A simulated meter of the practice bench: nothing it says has been measured. */
export const PracticeMeter = v.strictObject(
  {
    kind: v.literal('practice'),
    ...common,
    /** What its knob is set to. */
    unit: oneOf('Unit', meterUnits),
    coupling: v.nullable(oneOf('Coupling', couplings)),
  },
  ofObject('Meter'),
);
export type PracticeMeter = v.InferOutput<typeof PracticeMeter>;

/** A meter as the person described it. Only what a reading needs: the store adds the number it is known by. */
export const MeterDescription = v.variant(
  'kind',
  [SerialMeter, KeyboardMeter, PracticeMeter],
  'Kind of meter must be serial, keyboard or practice.',
);
export type MeterDescription = v.InferOutput<typeof MeterDescription>;

/** One thing that is wrong with a description: at which place, and what would be accepted. */
export interface Refusal {
  readonly path: string;
  readonly message: string;
}

/** Reads a description from outside: the description, or everything that is wrong with it. */
export function readDescription(
  input: unknown,
):
  | { readonly ok: true; readonly description: MeterDescription }
  | { readonly ok: false; readonly refusals: readonly Refusal[] } {
  const read = v.safeParse(MeterDescription, input);
  if (read.success) return { ok: true, description: read.output };
  const said = new Map(
    read.issues.map((issue) => {
      const path = v.getDotPath(issue) ?? '';
      return [`${path} ${issue.message}`, { path, message: issue.message }];
    }),
  );
  return { ok: false, refusals: [...said.values()] };
}
