import * as v from 'valibot';
import { recordId } from '../record/field.ts';

/**
 * What can be made: of a run every reading as comma-separated values, or a sheet for paper; of two builds the sheet that
 * holds them against each other; of a plan the sheet to build by, of its newest version unless one is named.
 */
export const ExportAsked = v.variant('what', [
  v.strictObject({ what: v.literal('readings-csv'), runId: recordId }),
  v.strictObject({ what: v.literal('run-sheet'), runId: recordId }),
  v.strictObject({ what: v.literal('comparison-sheet'), before: recordId, after: recordId }),
  v.strictObject({ what: v.literal('build-sheet'), planId: recordId, revisionId: v.optional(recordId) }),
]);
export type ExportAsked = v.InferOutput<typeof ExportAsked>;
export type ExportKind = ExportAsked['what'];

const exportKinds = [
  'readings-csv',
  'run-sheet',
  'comparison-sheet',
  'build-sheet',
] as const satisfies readonly ExportKind[];

/** A file that is being made, or was. */
export const ExportView = v.strictObject({
  exportId: recordId,
  what: v.picklist(exportKinds),
  state: v.picklist(['working', 'ready', 'failed', 'cancelled']),
  /** How much of it is done, from 0 to 1. */
  share: v.pipe(v.number(), v.minValue(0), v.maxValue(1)),
  /** The name that the file is offered under, and its size; null until it is ready. */
  name: v.nullable(v.string()),
  bytes: v.nullable(v.number()),
  /** Why it failed, for the person; null otherwise. */
  message: v.nullable(v.string()),
});
export type ExportView = v.InferOutput<typeof ExportView>;

/** Where a file went. */
export const Delivered = v.variant('kind', [
  /** To be fetched by the browser from this path of the host, once and soon. */
  v.strictObject({ kind: v.literal('download'), address: v.string() }),
  /** It lies in this file. */
  v.strictObject({ kind: v.literal('saved'), file: v.string() }),
  /** The person was asked where to and chose nothing: it is gone. */
  v.strictObject({ kind: v.literal('dismissed') }),
]);
export type Delivered = v.InferOutput<typeof Delivered>;
