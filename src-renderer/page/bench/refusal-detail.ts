import * as v from 'valibot';
import type { Failure } from '../../../src-shared/contract/failure.ts';

const AboutChannel = v.looseObject({ channel: v.string() });

/** The channel that a refusal of the program is about, by its id or label; null when it is about no single one. */
export function refusedChannel({ detail }: Failure): string | null {
  const parsed = v.safeParse(AboutChannel, detail);
  return parsed.success ? parsed.output.channel : null;
}
