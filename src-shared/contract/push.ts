import * as v from 'valibot';
import { ReadingColumns } from '../record/reading.ts';
import { RecordEvent, Run } from '../record/run.ts';
import { GuardView } from './guard-view.ts';
import { MeterState } from './meter-view.ts';

/** How one raw line of a meter on trial was read, or why it was not. */
export const TriedLine = v.strictObject({
  atMs: v.number(),
  text: v.string(),
  read: v.unknown(),
  sentence: v.string(),
});
export type TriedLine = v.InferOutput<typeof TriedLine>;

/** What the program tells its pages unasked. Readings may be lost to a slow page, and it is told; nothing else may. */
export const Push = v.variant('kind', [
  v.strictObject({ kind: v.literal('guard'), guard: GuardView }),
  v.strictObject({ kind: v.literal('readings'), columns: v.array(ReadingColumns) }),
  v.strictObject({ kind: v.literal('readings-missed'), readings: v.number() }),
  v.strictObject({ kind: v.literal('meter'), meter: MeterState }),
  v.strictObject({ kind: v.literal('run'), run: v.nullable(Run) }),
  v.strictObject({ kind: v.literal('event'), event: RecordEvent }),
  v.strictObject({ kind: v.literal('alarm'), code: v.string(), sentence: v.string(), atMs: v.number() }),
  v.strictObject({ kind: v.literal('tried'), tryId: v.number(), lines: v.array(TriedLine), heard: v.string() }),
  v.strictObject({
    kind: v.literal('changed'),
    what: v.picklist(['core', 'build', 'meter', 'session', 'run', 'result', 'settings', 'kept']),
    id: v.nullable(v.number()),
  }),
]);
export type Push = v.InferOutput<typeof Push>;
