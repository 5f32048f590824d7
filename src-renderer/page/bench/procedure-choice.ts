import type { BenchFacts } from '../../../src-shared/interlock/bench.ts';
import { jobSteps, type JobStep, type Procedure } from '../../../src-shared/procedure/procedure.ts';
import { procedures } from '../../../src-shared/procedure/table.ts';

const words: Readonly<Record<JobStep, string>> = {
  survey: 'Survey',
  'find-the-turns': 'Find the turns',
  prove: 'Prove',
};

/** A procedure as the list offers it. */
export interface Offered {
  readonly procedure: Procedure;
  /** Why it cannot be chosen yet; null when it can. */
  readonly notYet: string | null;
}

/** Every procedure under its step of the job. */
export const offered = (
  bench: BenchFacts,
): readonly { readonly step: JobStep; readonly word: string; readonly list: readonly Offered[] }[] =>
  jobSteps.map((step) => ({
    step,
    word: words[step],
    list: procedures
      .filter((procedure) => procedure.step === step)
      .map((procedure) => ({ procedure, notYet: procedure.notYet(bench) })),
  }));
