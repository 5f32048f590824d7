import * as v from 'valibot';
import { Corrections } from './correction.ts';
import { amount, count, line, ofObject, oneOf } from './field.ts';
import { MeterChecks } from './meter-check.ts';
import { BareUnit, LineFormat, LineValue } from './line-format.ts';
import { PortSettings } from './port-settings.ts';
import { MeterRanges, Scales } from './range.ts';
import { Sample } from './sample.ts';
import { couplings, meterUnits } from './unit.ts';

/** What every meter has, whichever way its values arrive. */
const common = {
  label: line('Label', 60),
  /** How its a.c. ranges get their value: by the heating effect, or from the rectified mean scaled for a sine. */
  responding: oneOf('Responding', ['true-rms', 'average', 'unknown']),
  ranges: MeterRanges,
  scales: Scales,
  /** What checks against something known found out, where the person wants it used. */
  corrections: v.optional(Corrections),
  /** Checks against something known, with their dates. */
  checks: v.optional(MeterChecks),
  /** The highest volts that meter and leads are rated for; null when not known. */
  maxVolts: v.nullable(amount('Highest rated volts', 1, 10_000, 'V')),
  /** The rating as printed beside the jacks, such as `CAT II 300 V`; null when there is none. */
  category: v.nullable(line('Category', 40)),
  /** How often a value is expected, in ms. A meter is called silent after three of these. */
  typicalIntervalMs: count('Typical interval', 20, 3_600_000, 'ms'),
} as const;

/** The meter sends by itself. */
const Listen = v.strictObject({ mode: v.literal('listen') }, ofObject('Talk'));

/** A command as sent: printable characters; the line end is added. */
const command = (field: string) =>
  v.pipe(
    v.string(`${field} must be text.`),
    v.regex(/^[\x20-\x7e]{1,120}$/, `${field} must be 1 to 120 printable characters of ASCII.`),
  );

export const lineEnds = { lf: '\n', cr: '\r', crlf: '\r\n' } as const satisfies Record<string, string>;

/** The meter answers when it is asked: one line for each asking. */
const Ask = v.strictObject(
  {
    mode: v.literal('ask'),
    query: command('Query'),
    /** From one asking to the next, at least; the next waits for the answer or its timeout. */
    intervalMs: count('Interval of asking', 50, 600_000, 'ms'),
    timeoutMs: count('Timeout', 50, 60_000, 'ms'),
    /** Sent once after opening, in order. One that ends with ? is waited for, and its answer shown: `*IDN?`, say. */
    opening: v.pipe(
      v.array(command('Opening command'), 'Opening commands must be a list.'),
      v.maxLength(16, 'Opening commands: at most 16.'),
    ),
    lineEnd: oneOf('Line end', ['lf', 'cr', 'crlf']),
  },
  ofObject('Talk'),
);
export type Ask = v.InferOutput<typeof Ask>;

const talk = v.variant('mode', [Listen, Ask], 'Talk: the mode must be listen or ask.');

export const SerialMeter = v.strictObject(
  {
    kind: v.literal('serial'),
    ...common,
    port: PortSettings,
    talk,
    format: LineFormat,
    /** What stands on a line of several values; empty for a meter that sends one value a line. */
    values: v.pipe(
      v.array(LineValue, 'Values must be a list.'),
      v.maxLength(16, 'Values: at most 16.'),
      v.check((list) => new Set(list.map(({ name }) => name)).size === list.length, 'Values: each name only once.'),
    ),
    /** What a number without a unit is in; null: such a number is unreadable. */
    bareUnit: v.nullable(BareUnit),
    /** Lines as they once came, to try a description on without the meter. */
    sample: v.optional(Sample),
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
    /** Up to which crest over its effective value it shows a wave truly, when it responds to true r.m.s.; 3 where absent. */
    crestFactor: v.optional(amount('Crest factor', 1.5, 20, '')),
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
