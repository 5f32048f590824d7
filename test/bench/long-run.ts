import { loadedRun } from '../../src-shared/procedure/loaded-run.ts';
import type { Reading } from '../../src-shared/record/reading.ts';
import type { Run, RunChannel } from '../../src-shared/record/run.ts';
import type { Store } from '../../src-main/store/store.ts';

/** Takes the value of an outcome: in a measurement nothing is refused. */
export function value<T>(outcome: { ok: true; value: T } | { ok: false; failure: { message: string } }): T {
  if (!outcome.ok) throw new Error(outcome.failure.message);
  return outcome.value;
}

/** A store in a folder, loaded as the program loads it. */
export async function openBenchStore(folder: string, wallNow: () => number): Promise<Store> {
  await import('../main/store/raw-text.mjs');
  const { openStore } = await import('../../src-main/store/open-store.ts');
  return value(openStore(folder, { wallNow, programVersion: 'bench' }));
}

/** Eight channels of a loaded run, each with what it reads around. */
export const eightChannels = [
  { channel: 'winding-temperature', unit: '°C', around: 78 },
  { channel: 'core-temperature', unit: '°C', around: 61 },
  { channel: 'lug-temperature', unit: '°C', around: 44 },
  { channel: 'ambient', unit: '°C', around: 21 },
  { channel: 'primary-volts', unit: 'V', around: 231 },
  { channel: 'secondary-volts', unit: 'V', around: 24 },
  { channel: 'secondary-amps', unit: 'A', around: 6 },
  { channel: 'watts', unit: 'W', around: 32 },
] as const;

/** A run with these channels, all of them filled by one invented meter. */
export function startLongRun(store: Store, channels: readonly Pick<RunChannel, 'channel' | 'unit'>[]): Run {
  const { build } = value(store.cores.add({ label: 'Dimmer core B', shape: 'shell' }));
  const meter = value(
    store.meters.add({
      kind: 'keyboard',
      label: 'Bench meter',
      responding: 'true-rms',
      ranges: [
        {
          unit: 'V',
          coupling: 'ac',
          top: 600,
          resolution: 0.01,
          percentOfReading: 0.8,
          digits: 5,
          shape: 'rectangular',
        },
      ],
      scales: [],
      maxVolts: 600,
      category: 'CAT III 600 V',
      typicalIntervalMs: 500,
    }),
  );
  const session = value(
    store.sessions.open(
      {
        buildId: build.buildId,
        supply: { kind: 'mains', volts: 230, hertz: 50, earthed: 'earthed', rcd: 'yes', fuseAmps: 3 },
        fedWindingId: null,
        ambientCelsius: 21,
        who: 'Stage workshop',
      },
      false,
    ),
  );
  return value(
    store.runs.start({
      sessionId: session.sessionId,
      procedure: loadedRun.id,
      channels: channels.map(({ channel, unit }) => ({
        channel,
        unit,
        meterId: meter.meterId,
        meterRevisionId: meter.revisionId,
        lockedRange: null,
      })),
      practice: false,
      startedMonoMs: 0,
    }),
  );
}

/** A made-up reading: a slow wave with a step of the last digit. */
export function longReading(run: Run, readingId: number, channel: number, atMs: number, around: number): Reading {
  const read = Math.round((around + 0.02 * around * Math.sin(atMs / 60_000 + channel)) * 100) / 100;
  return {
    readingId,
    runId: run.runId,
    channel,
    atMs,
    wallMs: run.startedWallMs + atMs,
    kind: 'number',
    value: read,
    coupling: 'ac',
    resolution: 0.01,
    text: `${read.toFixed(2)} V AC`,
    origin: 'meter',
    rangeIndex: 0,
    rangeLocked: false,
    tripped: false,
    bottomOfRange: false,
  };
}
