import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { LastReading } from '../../src-shared/contract/meter-view.ts';
import type { RequestValue } from '../../src-shared/contract/request.ts';
import type { MeterDescription } from '../../src-shared/meter/description.ts';
import { verdictOf, withCheck, type CheckReference, type MeterCheck } from '../../src-shared/meter/meter-check.ts';
import { meterUnits, type MeterUnit } from '../../src-shared/meter/unit.ts';
import type { Bench } from '../bench/bench.ts';
import type { Clock } from '../bench/clock.ts';
import type { Store } from '../store/store.ts';

interface Parts {
  readonly store: Store;
  readonly clock: Clock;
  readonly bench: Pick<Bench, 'memory' | 'filledBy'>;
}

interface CheckInput {
  readonly meterId: number;
  readonly typed: { readonly value: number; readonly rangeIndex: number } | null;
  readonly reference: CheckReference;
}

/** What a meter showed: before any correction, with the step of its last digit. */
interface Shown {
  readonly value: number;
  readonly resolution: number;
  readonly unit: MeterUnit;
  readonly rangeIndex: number | null;
}

/** A value this old is not what the meter shows now. */
const freshMs = 5000;
/** Half a width of a plus-or-minus statement to a standard uncertainty, rectangular: JCGM 100:2008, 4.3.7. */
const halfWidth = Math.sqrt(3);

/** Compares a meter with something known; the description with the check in it, kept. */
export function checkMeter(
  { store, clock, bench }: Parts,
  { meterId, typed, reference }: CheckInput,
): Outcome<RequestValue<'meter.check'>> {
  const meter = store.meters.get(meterId);
  if (meter === null || meter.retired) return failed('not-found', 'There is no such meter.', { path: 'meterId' });
  const { description } = meter;
  const fresh = (id: number): LastReading | null => {
    const { last } = bench.memory(id);
    // What was divided by the passes through a clamp is not what the meter shows.
    if ((bench.filledBy(id)?.passes ?? 1) > 1) return null;
    return last !== null && clock.monoMs() - last.atMs <= freshMs ? last : null;
  };
  const shown = typed === null ? heardBy(description, fresh(meterId)) : typedOn(description, typed);
  if (shown === null) {
    return failed('not-settled', typed === null ? notHeard(description.label) : 'That range is not described.');
  }
  const compared = referenceOf(reference, shown.unit, store, fresh);
  if (!compared.ok) return compared;
  const range = shown.rangeIndex === null ? null : (description.ranges[shown.rangeIndex] ?? null);
  const { value, resolution, unit, rangeIndex } = shown;
  const check: MeterCheck = {
    wallMs: clock.wallMs(),
    who: store.sessions.current()?.fields.who ?? store.settings.get().who,
    unit,
    rangeIndex,
    shown: value,
    resolution,
    reference: compared.value,
    verdict: verdictOf({ shown: value, resolution, reference: compared.value }, range),
  };
  const reason = `Checked against ${compared.value.label}.`.slice(0, 200);
  const kept = store.meters.revise(meterId, reason, {
    ...description,
    checks: withCheck(description.checks ?? [], check),
  });
  return kept.ok ? done(kept.value.description) : kept;
}

const notHeard = (label: string): string =>
  `${label} gives no plain number of its own now. Let it show the value, or type what it shows.`;

/** What the meter shows now, before its correction; null when that cannot be told from what was heard. */
function heardBy({ ranges, scales, corrections }: MeterDescription, last: LastReading | null): Shown | null {
  const unit = meterUnits.find((one) => one === last?.unit);
  if (last?.kind !== 'number' || last.value === null || unit === undefined) return null;
  // Behind a scale factor the value is not what the meter shows.
  if (scales.some(({ becomes }) => becomes === unit)) return null;
  const { rangeIndex } = last;
  const factor = corrections?.find((one) => one.rangeIndex === rangeIndex)?.factor ?? 1;
  const resolution = rangeIndex === null ? 0 : (ranges[rangeIndex]?.resolution ?? 0);
  return { value: last.value / factor, resolution, unit, rangeIndex };
}

function typedOn(
  { ranges }: MeterDescription,
  { value, rangeIndex }: { readonly value: number; readonly rangeIndex: number },
): Shown | null {
  const range = ranges[rangeIndex];
  return range === undefined ? null : { value, resolution: range.resolution, unit: range.unit, rangeIndex };
}

/** The known value with its standard uncertainty. */
function referenceOf(
  reference: CheckReference,
  unit: MeterUnit,
  store: Store,
  fresh: (meterId: number) => LastReading | null,
): Outcome<MeterCheck['reference']> {
  if (reference.kind === 'source') {
    const { label, value, giveOrTake } = reference;
    return done({ label, value, u: giveOrTake === null ? null : giveOrTake / halfWidth });
  }
  const other = store.meters.get(reference.meterId);
  if (other === null || other.retired) {
    return failed('not-found', 'There is no such meter to check against.', { path: 'reference.meterId' });
  }
  const last = fresh(reference.meterId);
  if (last?.kind !== 'number' || last.value === null || last.unit !== unit) {
    return failed('not-settled', notHeard(other.description.label), { path: 'reference.meterId' });
  }
  return done({ label: other.description.label, value: last.value, u: last.u });
}
