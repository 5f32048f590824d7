import * as v from 'valibot';
import { decimalMarks } from '../meter/decimal-mark.ts';
import { encodings } from '../meter/line-format.ts';
import { surenesses } from '../meter/port-judge.ts';
import { PortSettings } from '../meter/port-settings.ts';
import { ReadingColumns } from '../record/reading.ts';
import { RecordEvent, Run } from '../record/run.ts';
import { ExportView } from './export-view.ts';
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

/** How far the search for a port's settings is, and what it came to. */
const PortSearch = v.strictObject({
  kind: v.literal('port-search'),
  findId: v.number(),
  /** What is tried at this moment; null when it is over. */
  trying: v.nullable(PortSettings),
  /** Which of how many settings that is; it ends earlier when it is sure. */
  step: v.number(),
  steps: v.number(),
  /** The best that was heard so far, as a sentence. */
  heard: v.string(),
  outcome: v.nullable(
    v.variant('kind', [
      v.strictObject({
        kind: v.literal('heard'),
        settings: PortSettings,
        sureness: v.picklist(surenesses),
        encoding: v.picklist(encodings),
        decimal: v.picklist(decimalMarks),
        sample: v.array(v.string()),
        sentence: v.string(),
      }),
      v.strictObject({ kind: v.picklist(['nothing', 'failed', 'stopped']), sentence: v.string() }),
    ]),
  ),
});
export type PortSearch = v.InferOutput<typeof PortSearch>;

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
  PortSearch,
  /** How far an export is; its first and last are never left out. */
  v.strictObject({ kind: v.literal('export'), export: ExportView }),
  v.strictObject({
    kind: v.literal('changed'),
    what: v.picklist([
      'core',
      'build',
      'meter',
      'session',
      'run',
      'result',
      'settings',
      'kept',
      'need',
      'plan',
      'tally',
      'lesson',
    ]),
    id: v.nullable(v.number()),
  }),
]);
export type Push = v.InferOutput<typeof Push>;
