import { calculate } from '../../src-shared/calculation/calculate.ts';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { Calculated, Work } from '../../src-shared/procedure/material.ts';
import { procedureById } from '../../src-shared/procedure/table.ts';
import type { Result, Run } from '../../src-shared/record/run.ts';
import type { RecordReader } from '../store/read-record.ts';
import type { Store } from '../store/store.ts';
import type { Calculate } from './remembered.ts';
import { runMaterial } from './run-material.ts';

type Answer = ReturnType<Calculate>;

/** What a run comes to: the answer of its calculation, what follows besides, or what it still waits for. */
export interface RunAnswer {
  readonly answer: Answer | null;
  readonly besides: readonly Answer[];
  readonly waitingFor: string | null;
}

interface Worked extends RunAnswer {
  readonly main: Calculated | null;
  readonly also: readonly Calculated[];
}

const nothing = (waitingFor: string | null): Worked => ({
  answer: null,
  besides: [],
  waitingFor,
  main: null,
  also: [],
});

/** Works a run out from its record. Never for pairs: those are worked out where they are kept. */
export function workOut(store: RecordReader, run: Run, work: Calculate = calculate): Worked {
  const procedure = procedureById(run.procedure);
  const material = runMaterial(store, run);
  if (procedure === undefined || material === null) return nothing(null);
  const due: Work = procedure.work(material);
  if (due.kind === 'waiting') return nothing(due.sentence);
  const { calculation, input } = due.main;
  const answer = work(calculation, input);
  const also = due.besides?.(answer.ok ? answer.results : null) ?? [];
  return {
    answer,
    besides: also.map((one) => work(one.calculation, one.input)),
    waitingFor: null,
    main: due.main,
    also,
  };
}

/** Keeps what a run comes to, with what follows besides as far as it could be worked out. The main result is answered. */
export function keepAnswer(store: Store, run: Run, work: Calculate): Outcome<Result> {
  const { answer, main, also, besides, waitingFor } = workOut(store, run, work);
  if (answer === null || main === null) return failed('no-run', waitingFor ?? 'Nothing is kept in this run yet.');
  if (!answer.ok) {
    return failed('calculation-refused', answer.error.message, { path: answer.error.path, detail: answer.error });
  }
  const standing = store.keptPoints.ofRun(run.runId).filter(({ withdrawn }) => withdrawn === null);
  const readingIds = [...new Set(standing.flatMap(({ values }) => values.flatMap((value) => value.readingIds)))];
  const keep = (input: unknown, output: Extract<Answer, { ok: true }>) =>
    store.results.keep({
      buildId: run.buildId,
      runId: run.runId,
      calculation: output.name,
      version: output.version,
      input,
      output,
      readingIds,
    });
  for (const [index, output] of besides.entries()) {
    if (!output.ok) continue;
    const kept = keep(also[index]?.input, output);
    if (!kept.ok) return kept;
  }
  const kept = keep(main.input, answer);
  return kept.ok ? done(kept.value) : kept;
}
