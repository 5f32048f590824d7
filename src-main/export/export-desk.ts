import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Delivered, ExportAsked, ExportKind, ExportView } from '../../src-shared/contract/export-view.ts';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { Clock } from '../bench/clock.ts';
import type { Job } from '../jobs/job.ts';
import type { Handed, Jobs } from '../jobs/jobs.ts';
import type { Deliver, ReadyFile } from './delivery.ts';
import { putFailure } from './file-failure.ts';

const underWayAtMost = 8;
/** What nobody fetched by then is removed. */
const keptMs = 10 * 60_000;

const types: Readonly<Record<ExportKind, string>> = {
  'readings-csv': 'text/csv; charset=utf-8',
  'run-sheet': 'text/html; charset=utf-8',
  'comparison-sheet': 'text/html; charset=utf-8',
  'build-sheet': 'text/html; charset=utf-8',
};

interface Underway {
  readonly view: ExportView;
  readonly path: string;
  readonly handed: Handed;
  readonly stopTimer: (() => void) | null;
}

interface Parts {
  /** Where files wait until they are fetched; emptied at the start. */
  readonly folder: string;
  readonly jobs: Jobs;
  readonly clock: Clock;
  readonly push: (push: Push) => void;
  readonly deliver: Deliver;
  readonly version: string;
}

/** The files that were asked for: made by the jobs worker, kept for a while, handed over once. */
export class ExportDesk {
  readonly #parts: Parts;
  readonly #all = new Map<number, Underway>();
  #lastId = 0;

  constructor(parts: Parts) {
    this.#parts = parts;
    // What an earlier life of the program left: the folder is locked by now, so nobody else writes there.
    rmSync(parts.folder, { recursive: true, force: true });
  }

  /** Begins one. `busy` while many wait or are under way; everything later is told by pushes. */
  start(asked: ExportAsked): Outcome<ExportView> {
    if (this.#all.size >= underWayAtMost) {
      return failed('busy', `${underWayAtMost} files are being made or wait to be fetched. Fetch or cancel one first.`);
    }
    const exportId = ++this.#lastId;
    try {
      mkdirSync(this.#parts.folder, { recursive: true });
    } catch (error) {
      return putFailure(error, this.#parts.folder);
    }
    const path = join(this.#parts.folder, `${exportId}.part`);
    const { what } = asked;
    const view: ExportView = { exportId, what, state: 'working', share: 0, name: null, bytes: null, message: null };
    const handed = this.#parts.jobs.hand(this.#jobFor(asked, path), (share) => {
      this.#change(exportId, { share });
    });
    this.#all.set(exportId, { view, path, handed, stopTimer: null });
    void handed.ended.then((outcome) => {
      if (outcome.ok) this.#ready(exportId, outcome.value);
      else this.#fail(exportId, outcome.failure);
    });
    return done(view);
  }

  /** Calls one off, or gives up one that is ready. */
  cancel(exportId: number): void {
    const known = this.#all.get(exportId);
    if (known === undefined) return;
    if (known.view.state === 'working') known.handed.callOff();
    else this.#drop(exportId, { state: 'cancelled' });
  }

  /** Hands a ready one over to the host. `not-found` when there is none, or it was handed over before. */
  async fetch(exportId: number): Promise<Outcome<Delivered>> {
    const known = this.#all.get(exportId);
    if (known?.view.state !== 'ready') {
      return failed('not-found', 'This file is not there any more, or not yet. Make it again.', { path: 'exportId' });
    }
    known.stopTimer?.();
    this.#all.delete(exportId);
    const { view, path } = known;
    if (!existsSync(path)) {
      return failed('not-found', `The file is gone: it was taken away from ${this.#parts.folder}. Make it again.`);
    }
    const file: ReadyFile = { path, name: view.name ?? view.what, type: types[view.what], bytes: view.bytes ?? 0 };
    return this.#parts.deliver(file);
  }

  /** Removes every file that waits; jobs are called off by whoever ends them. */
  close(): void {
    for (const { stopTimer } of this.#all.values()) stopTimer?.();
    this.#all.clear();
    rmSync(this.#parts.folder, { recursive: true, force: true });
  }

  #jobFor(asked: ExportAsked, to: string): Job {
    const zone = new Intl.DateTimeFormat().resolvedOptions().timeZone;
    const { version: programVersion, clock } = this.#parts;
    return { ...asked, to, made: { programVersion, madeWallMs: clock.wallMs(), zone } };
  }

  #change(exportId: number, change: Partial<ExportView>): Underway | null {
    const known = this.#all.get(exportId);
    if (known === undefined) return null;
    const changed = { ...known, view: { ...known.view, ...change } };
    this.#all.set(exportId, changed);
    this.#parts.push({ kind: 'export', export: changed.view });
    return changed;
  }

  #ready(exportId: number, { name, bytes }: { readonly name: string; readonly bytes: number }): void {
    const ready = this.#change(exportId, { state: 'ready', share: 1, name, bytes });
    if (ready === null) return;
    const stopTimer = this.#parts.clock.after(keptMs, () => {
      this.#drop(exportId, { state: 'cancelled' });
    });
    this.#all.set(exportId, { ...ready, stopTimer });
  }

  #fail(exportId: number, { code, message }: { readonly code: string; readonly message: string }): void {
    this.#drop(exportId, code === 'cancelled' ? { state: 'cancelled' } : { state: 'failed', message });
  }

  #drop(exportId: number, change: Partial<ExportView>): void {
    const known = this.#change(exportId, change);
    if (known === null) return;
    known.stopTimer?.();
    this.#all.delete(exportId);
    rmSync(known.path, { force: true });
  }
}
