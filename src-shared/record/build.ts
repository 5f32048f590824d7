import * as v from 'valibot';
import { between, measured, note, recordId, wallMs, words } from './field.ts';

const turnsAtMost = 100_000;

/** The turns of a winding: counted by hand (halves allowed), found by measurement, or not known. */
export const Turns = v.variant('kind', [
  v.strictObject({
    kind: v.literal('counted'),
    turns: v.pipe(between(0.5, turnsAtMost, 'Turns'), v.multipleOf(0.5, 'Turns must be whole or half turns.')),
  }),
  v.strictObject({
    kind: v.literal('estimated'),
    value: between(0.5, turnsAtMost, 'Turns'),
    u: between(0, turnsAtMost, 'Uncertainty of turns'),
    resultId: v.nullable(recordId),
  }),
  v.strictObject({ kind: v.literal('unknown') }),
]);
export type Turns = v.InferOutput<typeof Turns>;

/** Turns with their standard uncertainty, 0 where they were counted; null when not known. */
export function turnsKnown(turns: Turns): { readonly value: number; readonly u: number } | null {
  if (turns.kind === 'unknown') return null;
  return turns.kind === 'counted' ? { value: turns.turns, u: 0 } : { value: turns.value, u: turns.u };
}

export const windingRoles = ['primary', 'secondary', 'test-coil', 'other'] as const;

/** One coil of a build. */
export const WindingFields = v.strictObject({
  label: words('Winding label', 60),
  role: v.picklist(windingRoles, 'Role must be primary, secondary, test coil or other.'),
  turns: Turns,
  metal: v.picklist(['copper', 'aluminium', 'not-known'], 'Metal must be copper, aluminium or not known.'),
  bareDiameter: v.optional(measured(0.02, 50, 'Bare wire diameter')),
  /** What it was wound with, as it is sold: `1.4 mm`, `AWG 14`, `4 mm² cable`, `3 × 1 mm strip`. */
  wire: v.optional(words('Wire', 60)),
  /** Strands in hand, where there are several. */
  strands: v.optional(
    v.pipe(
      v.number('Strands must be a whole number.'),
      v.safeInteger('Strands must be a whole number.'),
      v.minValue(1, 'Strands: 1 at least.'),
      v.maxValue(100, 'Strands: at most 100.'),
    ),
  ),
  /** Resistance in ohms, with the temperature it belongs to in °C. */
  ohms: v.optional(measured(0, 1e6, 'Resistance')),
  ohmsCelsius: v.optional(between(-30, 250, 'Temperature of the resistance')),
  /** Turns that were added (or taken off, when negative) when this build was made of the one before. */
  turnsAdded: v.optional(v.pipe(between(-turnsAtMost, turnsAtMost, 'Turns added'), v.multipleOf(0.5))),
  oneEndOnCore: v.picklist(['yes', 'no', 'not-looked'], 'One end on the core must be yes, no or not looked.'),
  /** Winding ends are joined to the plug of the transformer. */
  onPlug: v.boolean('On the plug must be yes or no.'),
  note: v.optional(note('Note')),
});
export type WindingFields = v.InferOutput<typeof WindingFields>;

export const Winding = v.strictObject({
  windingId: recordId,
  revisionId: recordId,
  replaces: v.nullable(recordId),
  reason: v.nullable(v.string()),
  wallMs,
  fields: WindingFields,
});
export type Winding = v.InferOutput<typeof Winding>;

/** One state of a core's windings. */
export const BuildFields = v.strictObject({
  title: words('Build title', 80),
  joint: v.picklist(
    ['as-welded', 're-welded', 'clamped', 'interleaved', 'not-known'],
    'Joint must be one of the list.',
  ),
  shunts: v.picklist(['in', 'out', 'none', 'not-known'], 'Shunts must be in, out, none or not known.'),
  /** What separates the windings: tape, margins, a bobbin's wall. */
  separation: v.optional(note('Separation', 200)),
  /** Which varnish or resin, and how it was cured; absent: none, or nobody said. */
  varnish: v.optional(note('Varnish', 200)),
  /** Day on which the varnish was cured, as year, month, day. */
  curedOn: v.optional(v.pipe(v.string(), v.isoDate('The day of curing must be a date, such as 2026-11-25.'))),
  note: v.optional(note('Note')),
  /** The version of a plan that it was wound by; absent: by none. */
  planRevisionId: v.optional(recordId),
});
export type BuildFields = v.InferOutput<typeof BuildFields>;

export const Build = v.strictObject({
  buildId: recordId,
  coreId: recordId,
  /** 1 is as found; numbered in order within its core. */
  number: v.pipe(v.number(), v.safeInteger(), v.minValue(1)),
  wallMs,
  fields: BuildFields,
  windings: v.array(Winding),
  /** A run was made on it: its windings are closed to change, except for what a measurement found out. */
  hasRuns: v.boolean(),
});
export type Build = v.InferOutput<typeof Build>;
