import * as v from 'valibot';
import { requests, type RequestInput, type RequestName, type RequestValue } from '../src-shared/contract/request.ts';
import type { GuardView } from '../src-shared/contract/guard-view.ts';
import { isCheckId } from '../src-shared/interlock/checks.ts';
import { missingForReady } from '../src-shared/interlock/ready.ts';
import type { KeyboardMeter, MeterDescription, SerialMeter } from '../src-shared/meter/description.ts';
import { usualPortSettings } from '../src-shared/meter/port-settings.ts';

/** Anything that answers requests: a page's connection, or the program's services themselves. */
export type AskAnything = (name: RequestName, input: unknown) => Promise<unknown>;
export type Ask = <N extends RequestName>(name: N, input: RequestInput<N>) => Promise<RequestValue<N>>;

/** The same, with each answer held against the contract. */
export const typed =
  (ask: AskAnything): Ask =>
  async (name, input) =>
    v.parse(requests[name].output as v.GenericSchema<never>, JSON.parse(JSON.stringify(await ask(name, input))));

const voltRanges: MeterDescription['ranges'] = [
  { unit: 'V', coupling: 'ac', top: 2, resolution: 0.001, percentOfReading: 0.8, digits: 5, shape: 'rectangular' },
  { unit: 'V', coupling: 'ac', top: 20, resolution: 0.01, percentOfReading: 0.8, digits: 5, shape: 'rectangular' },
  { unit: 'V', coupling: 'ac', top: 200, resolution: 0.1, percentOfReading: 1.2, digits: 5, shape: 'rectangular' },
  { unit: 'V', coupling: 'ac', top: 600, resolution: 1, percentOfReading: 1.2, digits: 5, shape: 'rectangular' },
];

const rated = (): Omit<KeyboardMeter, 'kind' | 'label'> => ({
  responding: 'true-rms',
  ranges: voltRanges,
  scales: [],
  maxVolts: 600,
  category: 'CAT III 600 V',
  typicalIntervalMs: 500,
});

/** A meter on a serial line, rated for the mains, its link isolated. */
export const serialMeter = (label: string, path: string, more: Partial<SerialMeter> = {}): SerialMeter => ({
  kind: 'serial',
  label,
  ...rated(),
  port: { ...usualPortSettings, path },
  talk: { mode: 'listen' },
  format: { grammar: 'generic', encoding: 'ascii', decimal: 'point' },
  values: [],
  bareUnit: null,
  linkIsolated: 'yes',
  ...more,
});

/** The same meter without a line: its values are typed. */
export const typedMeter = (label: string): KeyboardMeter => ({ kind: 'keyboard', label, ...rated() });

/** A core with its untouched primary on build 1; which core, build and winding it became. */
export async function shelve(ask: Ask): Promise<{ coreId: number; buildId: number; windingId: number }> {
  const { coreId } = await ask('core.save', { fields: { label: 'Dimmer core A', shape: 'shell' } });
  const { builds } = await ask('core.get', { coreId });
  const buildId = builds[0]?.buildId ?? 0;
  const { windingId } = await ask('winding.save', {
    buildId,
    fields: {
      label: 'Primary',
      role: 'primary',
      turns: { kind: 'unknown' },
      metal: 'not-known',
      oneEndOnCore: 'no',
      onPlug: true,
    },
  });
  return { coreId, buildId, windingId };
}

/** A session fed from the mains, with the test-coil procedure set up on the given meters. */
export async function setUpOnMains(
  ask: Ask,
  at: { buildId: number; windingId: number; volts?: number },
  meters: { primary: number; coil: number },
): Promise<GuardView> {
  await ask('session.open', {
    fields: {
      buildId: at.buildId,
      supply: { kind: 'mains', volts: at.volts ?? 120, hertz: 60, earthed: 'earthed', rcd: 'yes', fuseAmps: 3 },
      fedWindingId: at.windingId,
      who: 'Rowan',
    },
  });
  return ask('bench.set-up', {
    procedure: 'test-coil',
    channels: [
      { channel: 'primary-volts', meterId: meters.primary, lockedRange: 2 },
      { channel: 'coil-volts', meterId: meters.coil, lockedRange: 1 },
    ],
  });
}

/**
 * One command to the guard, with the revision that it is at. Looks again when the bench moved on in between: meters speak
 * when they like.
 */
export async function tell(ask: Ask, command: RequestInput<'guard.send'>['command']): Promise<GuardView> {
  for (;;) {
    const { guard } = await ask('app.present', {});
    try {
      return await ask('guard.send', { revision: guard.state.revision, command });
    } catch (error) {
      const { guard: now } = await ask('app.present', {});
      if (now.state.revision === guard.state.revision) throw error;
    }
  }
}

/** Proves the bench dead with a two-pole indicator: lights, nothing everywhere on the circuit, lights. */
export async function proveDead(ask: Ask): Promise<GuardView> {
  for (const checkId of ['pd-plug', 'pd-cap', 'pd-lead'] as const) {
    await tell(ask, { kind: 'check-confirmed', checkId });
  }
  const instrument = { kind: 'indicator', label: 'Two-pole indicator', maxVolts: 690 } as const;
  let view = await tell(ask, { kind: 'proof-started', instrument });
  while (view.state.proofInProgress !== null) {
    const { steps, readings } = view.state.proofInProgress;
    const point = steps[readings.length]?.point.kind;
    const isKnown = point === 'known1' || point === 'known2';
    const result = isKnown ? ({ kind: 'lights' } as const) : ({ kind: 'nothing' } as const);
    view = await tell(ask, { kind: 'proof-step', step: readings.length, result });
  }
  return view;
}

/** Confirms every line that waits for a person, and sets the limits as they are proposed. */
export async function confirmAll(ask: Ask): Promise<GuardView> {
  let { guard } = await ask('app.present', {});
  for (const { id, how } of missingForReady(guard.state)) {
    if (id === 'limits' && guard.state.setUp !== null) {
      const { limits } = guard.state.setUp.proposed;
      guard = await tell(ask, {
        kind: 'limits-set',
        limits: { ...limits, channels: [...limits.channels] },
        reason: null,
      });
    } else if (how === 'tick' && isCheckId(id)) {
      guard = await tell(ask, { kind: 'check-confirmed', checkId: id });
    }
  }
  return guard;
}

/** Waits until nothing stands between the bench and *ready*, for meters that have yet to send their first line. */
async function untilNothingMissing(ask: Ask, withinMs = 60_000): Promise<void> {
  const end = performance.now() + withinMs;
  for (;;) {
    const { guard } = await ask('app.present', {});
    const missing = missingForReady(guard.state);
    if (missing.length === 0) return;
    if (performance.now() > end) throw new Error(`Still missing: ${JSON.stringify(missing)}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

/** Holds the power-on bar for as long as it asks, once nothing is missing. */
export async function powerOn(ask: Ask, holdMs = 1100): Promise<GuardView> {
  await untilNothingMissing(ask);
  await tell(ask, { kind: 'ready-asked' });
  await tell(ask, { kind: 'power-on-begun' });
  await new Promise((resolve) => setTimeout(resolve, holdMs));
  return tell(ask, { kind: 'power-on-confirmed' });
}
