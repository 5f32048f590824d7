import { done, failed } from '../../../src-shared/contract/failure.ts';
import type { RequestValue } from '../../../src-shared/contract/request.ts';
import type { Run } from '../../../src-shared/record/run.ts';
import type { RunFacts } from '../../../src-shared/report/run-facts.ts';
import { benchMeter, facts as sheetFacts, heatResult, startMs } from '../../shared/report/facts-fixture.ts';
import { FakeProgram } from '../fake-program.ts';

const channels = [
  { channel: 'winding-temperature', unit: '°C' },
  { channel: 'line-volts', unit: 'V' },
] as const;

/** Invented: a heat run of ten minutes, a reading a second, a gap in the middle and a spike of one reading. */
export const lastMs = 600_000;
export const spikeAtMs = 420_000;
const valueAt = (channel: string, atMs: number): number | null => {
  if (atMs > 240_000 && atMs < 300_000) return null;
  if (channel === 'line-volts') return atMs === spikeAtMs ? 260 : 231;
  return 21 + atMs / 20_000;
};

export function factsOf(runId: number, more: Partial<RunFacts> = {}, run: Partial<Run> = {}): RunFacts {
  return {
    ...sheetFacts,
    run: {
      ...sheetFacts.run,
      runId,
      procedure: 'heat-run',
      channels: channels.map((each) => ({ ...each, meterId: 1, meterRevisionId: 1, lockedRange: null })),
      ...run,
    },
    meters: [benchMeter, benchMeter],
    counts: channels.map(() => ({ readings: 600, overloads: 0, unreadables: 0, lowest: 21, highest: 260, mean: 50 })),
    lastMs,
    limits: [{ channel: 'winding-temperature', min: null, max: 60, warn: 45, fromMs: 0, toMs: null }],
    happenings: [
      {
        eventId: 1,
        kind: 'power',
        atMs: 0,
        wallMs: startMs,
        word: 'Power on',
        text: 'Power was declared on by Rowan.',
      },
      { eventId: 2, kind: 'note', atMs: 200_000, wallMs: startMs + 2e5, word: 'fan off', text: 'fan off' },
    ],
    results: [{ ...heatResult, runId }],
    ...more,
  };
}

type History = { runId: number; channel: string; fromMs: number; toMs: number; pixels: number };

/** A fake program with runs 7 and 9 of one core, whose history is answered as the store answers it. */
export function runProgram(facts: readonly RunFacts[] = [factsOf(7), factsOf(9)]): FakeProgram {
  const program = new FakeProgram();
  program.instead['run.facts'] = ({ runId }) => {
    const found = facts.find(({ run }) => run.runId === runId);
    return found === undefined ? failed('not-found', `There is no run ${runId} in the record.`) : done(found);
  };
  program.instead['core.get'] = ({ coreId }) =>
    done({
      core: { ...sheetFacts.core, coreId },
      builds: [sheetFacts.build],
      results: [],
      runs: facts.map(({ run }) => run),
      history: [],
    } satisfies RequestValue<'core.get'>);
  program.instead['run.history'] = (view: History) => {
    const atMs = Array.from({ length: lastMs / 1000 + 1 }, (_, index) => index * 1000).filter(
      (at) => at >= view.fromMs && at <= view.toMs,
    );
    const value = atMs.map((at) => valueAt(view.channel, at));
    return done({
      runId: view.runId,
      channel: view.channel,
      atMs,
      value,
      readings: atMs.length,
      rowsRead: atMs.length,
    });
  };
  program.instead['run.at'] = ({ atMs }) => {
    const at = Math.round(Math.min(lastMs, Math.max(0, atMs)) / 1000) * 1000;
    return done(
      channels.map(({ channel, unit }) => {
        const value = valueAt(channel, at);
        const kind = value === null ? ('overload' as const) : ('number' as const);
        return {
          channel,
          unit,
          atMs: at,
          kind,
          value,
          u: 0.5,
          text: value === null ? 'OL' : `${value} ${unit}`,
          origin: 'meter' as const,
        };
      }),
    );
  };
  return program;
}
