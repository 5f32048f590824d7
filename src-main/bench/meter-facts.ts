import type { MeterCategory, MeterFacts } from '../../src-shared/interlock/bench.ts';
import { isTyped, type Filled } from './choose.ts';

const categories: Readonly<Record<string, MeterCategory>> = { I: 'none', II: 'II', III: 'III', IV: 'IV' };

/** The measurement category in a rating as printed beside the jacks, such as `CAT II 300 V`. */
function categoryOf(printed: string | null): MeterCategory {
  const found = /\bCAT\.?\s*(IV|III|II|I)\b/i.exec(printed ?? '')?.[1];
  return (found === undefined ? undefined : categories[found.toUpperCase()]) ?? 'not-known';
}

const linkOf = { yes: 'yes', no: 'no', unknown: 'not-known' } as const;

/** What the guard needs to know of a described meter on a channel. */
export const meterFacts = (
  filled: Pick<Filled, 'meterId' | 'description' | 'lockedRange' | 'value' | 'byEye'>,
): MeterFacts => {
  const { meterId, description, lockedRange, value } = filled;
  const typed = isTyped(filled);
  return {
    meterId,
    label: description.label,
    typed,
    intervalMs: typed ? 0 : description.typicalIntervalMs,
    maxVolts: description.maxVolts,
    category: categoryOf(description.category),
    linkIsolated: description.kind === 'serial' ? linkOf[description.linkIsolated] : 'none',
    practice: description.kind === 'practice',
    lockedRange,
    ...(value === null ? {} : { value }),
  };
};
