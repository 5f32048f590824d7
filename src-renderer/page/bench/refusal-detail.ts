import * as v from 'valibot';
import type { Failure } from '../../../src-shared/contract/failure.ts';

const AboutChannel = v.looseObject({ channel: v.string() });

/** The channel that a refusal of the program is about, by its id or label; null when it is about no single one. */
export function refusedChannel({ detail }: Failure): string | null {
  const parsed = v.safeParse(AboutChannel, detail);
  return parsed.success ? parsed.output.channel : null;
}

const Outside = v.looseObject({
  code: v.literal('out-of-bounds'),
  what: v.string(),
  value: v.nullable(v.number()),
  lowest: v.nullable(v.number()),
  highest: v.nullable(v.number()),
});
const Loosened = v.looseObject({ code: v.literal('loosened-while-live'), what: v.array(v.string()) });
const ReasonNeeded = v.looseObject({ code: v.literal('reason-needed') });
const LimitRefusal = v.variant('code', [Outside, Loosened, ReasonNeeded]);

/** Why the guard refused limits, as far as it is about a box of theirs; null for anything else. */
export function guardRefusal({ detail }: Failure): v.InferOutput<typeof LimitRefusal> | null {
  const parsed = v.safeParse(LimitRefusal, detail);
  return parsed.success ? parsed.output : null;
}
