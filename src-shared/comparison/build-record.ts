import * as v from 'valibot';
import type { Build } from '../record/build.ts';
import type { Result, Run } from '../record/run.ts';
import type { Session } from '../record/session.ts';
import type { Power } from './volts-power.ts';

/** A build with everything that a comparison reads of it. */
export interface BuildRecord {
  readonly build: Build;
  readonly results: readonly Result[];
  readonly runs: readonly Run[];
  readonly sessions: readonly Session[];
  /** Kind of each meter, by its id, as its description says. */
  readonly meterKinds: ReadonlyMap<number, string>;
  /** What each meter is called, by its id. */
  readonly meterNames: ReadonlyMap<number, string>;
}

const finite = v.pipe(v.number(), v.finite());
/** A measured input as it stands in a kept result. */
export const Measured = v.union([
  finite,
  v.object({
    value: finite,
    u: v.nullable(finite),
    shape: v.exactOptional(v.picklist(['normal', 'rectangular', 'triangular'])),
    /** Null is infinite. */
    dof: v.exactOptional(v.nullable(finite)),
    shared: v.exactOptional(v.object({ id: v.string(), u: finite })),
  }),
]);

/** A quantity of one build as the calculation `compare` takes it. */
export interface Item {
  readonly quantity: string;
  readonly unit?: string;
  readonly value: v.InferOutput<typeof Measured>;
  readonly conditions: Readonly<Record<string, unknown>>;
  /** Power of the supply volts that it goes with. */
  readonly voltsExponent?: Power;
  /** Further parts of its doubt, what it shares with others among them. */
  readonly parts?: readonly { readonly u: number }[];
}
