import * as v from 'valibot';
import { Build } from '../record/build.ts';
import { Core } from '../record/core.ts';
import { Result, Run } from '../record/run.ts';

/** A core with everything the Core page shows. */
export const CoreWhole = v.strictObject({
  core: Core,
  builds: v.array(Build),
  results: v.array(Result),
  runs: v.array(Run),
  /** Every row that was ever written for the core, oldest first. */
  history: v.array(Core),
});
export type CoreWhole = v.InferOutput<typeof CoreWhole>;
