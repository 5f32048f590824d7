import type { SeenReading } from '../../src-shared/interlock/bench.ts';
import type { GuardState } from '../../src-shared/interlock/state.ts';
import { judge, type Judged } from '../../src-shared/meter/accuracy.ts';
import { inExpectedUnit, type MeterReading } from '../../src-shared/meter/channel-reading.ts';
import type { MeterDescription } from '../../src-shared/meter/description.ts';
import type { ProcedureChannel } from '../../src-shared/procedure/procedure.ts';

/** The reading as its channel takes it: unreadable when its unit or coupling is another one. */
export function fit(reading: MeterReading, channel: ProcedureChannel): MeterReading {
  const fitted = inExpectedUnit(reading, channel);
  if (fitted === reading) return reading;
  const { meterId, name, atMs, wallMs, origin, practice } = reading;
  return { ...fitted, meterId, name, atMs, wallMs, origin, practice };
}

/** What one wire carries, when it passes several times through the clamp. What was shown stays with it. */
export function onePass(reading: MeterReading, passes: number): MeterReading {
  if (reading.kind !== 'number' || passes === 1) return reading;
  const { value, unit, resolution } = reading;
  const shown = reading.shown ?? { value, unit, resolution };
  return { ...reading, value: value / passes, resolution: resolution / passes, shown };
}

/** The reading with its range's stated correction in it. What was shown, and the text, stay as they were. */
export function withCorrection(reading: MeterReading, judged: Judged | null): MeterReading {
  if (reading.kind !== 'number' || judged?.kind !== 'judged' || judged.correction === null) return reading;
  const { value, unit, resolution } = reading;
  return { ...reading, value: judged.estimate.value, shown: reading.shown ?? { value, unit, resolution } };
}

/** The range that a proof in progress holds the reading's meter on; undefined when none is made with it. */
export function provingRange({ proofInProgress: proof }: GuardState, reading: MeterReading): number | null | undefined {
  if (proof?.instrument.kind !== 'meter' || proof.instrument.meterId !== reading.meterId) return undefined;
  if (reading.kind === 'unreadable') return null;
  return reading.coupling === 'dc' ? proof.instrument.dcRange : proof.instrument.acRange;
}

/** How far a number can be trusted by its meter's description; null when it is none. */
export function judgedOf(
  reading: MeterReading,
  description: MeterDescription,
  lockedRange: number | null,
): Judged | null {
  return reading.kind === 'number' ? judge(reading.meterId, description, reading, lockedRange) : null;
}

/** The reading as the guard sees it. */
export function seen(reading: MeterReading): SeenReading {
  if (reading.kind === 'unreadable') return { kind: 'unreadable' };
  const coupling = reading.coupling ?? null;
  return reading.kind === 'number'
    ? { kind: 'number', value: reading.value, unit: reading.unit, coupling }
    : { kind: 'overload', atLeast: null, unit: reading.unit ?? null, coupling };
}
