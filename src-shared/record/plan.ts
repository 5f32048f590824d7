import * as v from 'valibot';
import { between, recordId, wallMs, words } from './field.ts';
import { PlannedOutput, Predicted } from './planned-output.ts';

const mm = (field: string) => between(0, 2000, field);

/** What was asked of a plan, as its form held it: texts as typed, choices, confirmations. */
const AskedTexts = v.record(
  v.pipe(v.string(), v.maxLength(40)),
  v.union([v.pipe(v.number(), v.finite()), v.boolean(), v.pipe(v.string(), v.maxLength(200))]),
);

const distinct = (keys: readonly string[]): boolean => new Set(keys).size === keys.length;

/** One version of a plan. Lengths in mm, from the limb outwards. */
export const PlanFields = v.strictObject({
  title: words('Title', 80),
  needId: v.optional(recordId),
  /** Turns added to the primary; negative: taken off. Halves allowed. */
  addedTurns: v.pipe(
    between(-10_000, 10_000, 'Added turns'),
    v.multipleOf(0.5, 'Added turns must be whole or half turns.'),
  ),
  /** Closed: the old winding is sawn off and the new one threaded. Opened: seams cut, wound on a former. */
  opening: v.picklist(['closed', 'opened'], 'The core stays closed or is opened.'),
  /** What makes the plan repeatable: the form as it stood, in the units it was typed in. */
  asked: v.strictObject({
    units: v.picklist(['metric', 'us']),
    whole: AskedTexts,
    outputs: v.pipe(v.array(AskedTexts), v.maxLength(6)),
  }),
  /** In the order in which they are wound, the first nearest to the limb. */
  outputs: v.pipe(
    v.array(PlannedOutput),
    v.minLength(1, 'A plan needs an output.'),
    v.maxLength(6, 'A plan holds at most 6 outputs.'),
    v.check((outputs) => distinct(outputs.map(({ key }) => key)), 'Two outputs have the same key.'),
  ),
  window: v.strictObject({
    widthMm: mm('Window width'),
    heightMm: mm('Window height'),
    /** From the limb to the first planned layer's room: the primary and whatever else stays. */
    innerMm: mm('Underneath'),
    clearanceMm: mm('Clearance'),
    /** Room left outside the last layer, the clearance not counted. */
    leftMm: mm('Room left'),
    /** Windings that stay, for which nothing was taken off since their thickness is not known; absent where there are none. */
    notTakenOff: v.optional(v.array(words('Winding label', 60))),
  }),
  /** The line that all predictions are for. */
  line: v.strictObject({
    volts: between(1, 1000, 'Line volts'),
    hertz: v.picklist([50, 60], 'Line hertz must be 50 or 60.'),
  }),
  /** Of the whole with no load, from a sweep of this build; null where none tells. */
  noLoad: v.strictObject({
    amps: v.nullable(Predicted),
    watts: v.nullable(Predicted),
    /** What it would draw with the added turns wound the wrong way round; null when none are added. */
    ampsIfOpposing: v.nullable(Predicted),
  }),
  /** Rise of the core over the room if it stays on, in K; null where nothing tells, absent in plans made before it was told. */
  heat: v.optional(v.strictObject({ noLoad: v.nullable(Predicted), loaded: v.nullable(Predicted) })),
  /** The rows and results that it stood on. */
  rests: v.strictObject({
    coreRevisionId: recordId,
    windingRevisionIds: v.array(recordId),
    resultIds: v.array(recordId),
  }),
});
export type PlanFields = v.InferOutput<typeof PlanFields>;

/** One version as stored. Versions are never edited; the next names the one before it. */
export const PlanVersion = v.strictObject({
  planId: recordId,
  revisionId: recordId,
  /** Counts from 1 within the plan. */
  number: v.pipe(v.number(), v.safeInteger(), v.minValue(1)),
  replaces: v.nullable(recordId),
  reason: v.nullable(v.string()),
  wallMs,
  fields: PlanFields,
});
export type PlanVersion = v.InferOutput<typeof PlanVersion>;

/** A plan with all its versions, oldest first. */
export const Plan = v.strictObject({
  planId: recordId,
  buildId: recordId,
  versions: v.pipe(v.array(PlanVersion), v.minLength(1)),
});
export type Plan = v.InferOutput<typeof Plan>;

/** How far the winding of one output has come. */
export const Tally = v.strictObject({
  output: v.string(),
  turns: v.pipe(v.number(), v.minValue(0)),
  wallMs,
});
export type Tally = v.InferOutput<typeof Tally>;
