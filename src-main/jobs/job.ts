import type { ExportAsked } from '../../src-shared/contract/export-view.ts';
import type { Outcome } from '../../src-shared/contract/failure.ts';
import type { SheetMade } from '../../src-shared/report/sheet-page.ts';

/** What the worker is asked to do; each kind is a row of `carry-out.ts`. */
export type Job = ExportAsked & { readonly to: string; readonly made: SheetMade };

/** A file that a job made: the name to offer it under, and its size. */
export interface MadeFile {
  readonly name: string;
  readonly bytes: number;
}

/** What goes to the worker: one job at a time. The first number of `flag` turns 1 when the job is called off. */
export interface Order {
  readonly record: string;
  readonly job: Job;
  readonly flag: Int32Array<SharedArrayBuffer>;
}

/** What comes back: how far it is, any number of times, then how it ended. */
export type Report =
  | { readonly kind: 'progress'; readonly share: number }
  | { readonly kind: 'ended'; readonly outcome: Outcome<MadeFile> };
