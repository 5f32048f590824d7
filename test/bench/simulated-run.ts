import type { Services } from '../../src-main/host/service.ts';
import type { Store } from '../../src-main/store/store.ts';
import { done, failed } from '../../src-shared/contract/failure.ts';
import type { MeterState } from '../../src-shared/contract/meter-view.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { BenchFacts, MeterFacts } from '../../src-shared/interlock/bench.ts';
import { guardAtFirst, type Live } from '../../src-shared/interlock/state.ts';
import { loadedRun } from '../../src-shared/procedure/loaded-run.ts';
import { setUpFor } from '../../src-shared/procedure/set-up.ts';
import type { Reading } from '../../src-shared/record/reading.ts';
import type { Run } from '../../src-shared/record/run.ts';
import type { Session } from '../../src-shared/record/session.ts';
import { settingsAtFirst } from '../../src-shared/record/settings.ts';
import { emptyServices } from '../contract/stand-in.ts';
import { eightChannels, longReading, startLongRun, value } from './long-run.ts';

/** So often each channel reads. */
export const readingEveryMs = 100;

/** The one meter of the run: each of its lines carries all eight values. */
const factsOf = (meterId: number, channel: string): MeterFacts => ({
  meterId,
  label: 'Bench meter',
  typed: false,
  intervalMs: readingEveryMs,
  maxVolts: 600,
  category: 'III',
  linkIsolated: 'yes',
  practice: false,
  lockedRange: null,
  value: channel,
});

/** The guard with power on for a loaded run of a core with one secondary. */
function liveGuard({ fields, sessionId }: Session, run: Run): Live {
  const windings: BenchFacts['windings'] = [
    { windingId: 1, label: 'Primary', role: 'primary', volts: 230, onPlug: true, oneEndOnCore: 'no' },
    { windingId: 2, label: 'Secondary', role: 'secondary', volts: 24, onPlug: false, oneEndOnCore: 'no' },
  ];
  const bench: BenchFacts = {
    buildId: fields.buildId,
    supply: fields.supply,
    fedWindingId: 1,
    windings,
    plug: { kind: 'volts', volts: 230 },
  };
  const filledBy = new Map(run.channels.map(({ channel, meterId }) => [channel, factsOf(meterId, channel)]));
  const setUp = setUpFor(loadedRun, bench, filledBy, undefined, { plannedAmps: 6, minutes: 480 });
  return {
    ...guardAtFirst(0),
    kind: 'live',
    why: { code: 'declared-on', by: fields.who },
    sessionId,
    bench,
    setUp,
    limits: setUp.proposed.limits,
    power: { by: fields.who, onAtMs: 0, offAtMs: null },
  };
}

/** A bench over a store and a clock that only the measurement moves: its run goes on as fast as it likes. */
export class SimulatedRun {
  nowMs = 0;
  readonly #store: Store;
  readonly #run: Run;
  readonly #session: Session;
  readonly #guard: Live;
  #readingId = 0;
  #last: readonly Reading[] = [];
  readonly #listeners = new Set<(push: Push) => void>();

  constructor(store: Store) {
    this.#store = store;
    this.#run = startLongRun(store, eightChannels);
    const session = store.sessions.current();
    if (session === null) throw new Error('A run has a session.');
    this.#session = session;
    this.#guard = liveGuard(session, this.#run);
  }

  readonly subscribe = (listener: (push: Push) => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  #push(push: Push): void {
    for (const listener of this.#listeners) listener(push);
  }

  #guardView() {
    return { nowMs: this.nowMs, state: this.#guard };
  }

  #meter(meterId: number): MeterState {
    const settling = { isSettled: true, seconds: 5, sentence: 'Steady for 5 s.' };
    const byChannel = this.#last.flatMap(({ atMs, kind, value, coupling, text, origin, rangeIndex }, index) => {
      const last = { atMs, kind, value, coupling, text, origin, rangeIndex, u: 0.5, bottomOfRange: false };
      return eightChannels.slice(index, index + 1).map(({ channel, unit }) => ({
        channel,
        last: { ...last, unit },
        settling,
      }));
    });
    return {
      meterId,
      status: 'answering',
      why: null,
      sentence: 'Answering.',
      sinceMs: 0,
      last: byChannel[0]?.last ?? null,
      channel: byChannel[0]?.channel ?? null,
      settling,
      byChannel,
    };
  }

  /** Readings of all channels for so long, written and told as the recorder does. */
  go(forMs: number, isTold: boolean): void {
    const run = this.#run;
    const toMs = this.nowMs + forMs;
    const readings: Reading[] = [];
    for (let atMs = this.nowMs; atMs < toMs; atMs += readingEveryMs) {
      this.#last = eightChannels.map(({ around }, channel) =>
        longReading(run, ++this.#readingId, channel, atMs, around),
      );
      readings.push(...this.#last);
    }
    value(this.#store.readings.writeBatch({ readings, events: [] }));
    this.nowMs = toMs;
    if (!isTold) return;
    this.#push({ kind: 'guard', guard: this.#guardView() });
    const columns = eightChannels.map(({ channel, unit }, index) => {
      const own = readings.filter((reading) => reading.channel === index);
      return {
        runId: run.runId,
        channel,
        unit,
        atMs: own.map(({ atMs }) => atMs),
        kind: own.map(({ kind }) => kind),
        value: own.map((reading) => reading.value),
        u: own.map(() => 0.5),
        text: own.map(({ text }) => text),
      };
    });
    this.#push({ kind: 'readings', columns });
    for (const { meterId } of this.#store.meters.list()) this.#push({ kind: 'meter', meter: this.#meter(meterId) });
  }

  async services(): Promise<Services> {
    const { gatherRun, readingsAt } = await import('../../src-main/export/gather-run.ts');
    const store = this.#store;
    const [run, session] = [this.#run, this.#session];
    const answers = {};
    return {
      ...emptyServices,
      'app.present': () =>
        done({
          version: 'bench',
          dataFolder: store.folder,
          warning: null,
          nowMs: this.nowMs,
          wallMs: run.startedWallMs + this.nowMs,
          settings: { ...settingsAtFirst, who: 'Stage workshop' },
          guard: this.#guardView(),
          session,
          run,
          lastRun: run,
          meters: store.meters.list().map(({ meterId, revisionId, wallMs, description }) => ({
            meterId,
            revisionId,
            wallMs,
            description,
            state: this.#meter(meterId),
          })),
          setup: {
            procedure: run.procedure,
            channels: run.channels.map(({ channel, meterId }) => ({ channel, meterId, lockedRange: null })),
            answers,
          },
        }),
      'run.get': () =>
        done({
          run,
          session,
          kept: [],
          points: [],
          answers,
          events: [],
          results: [],
          soFar: null,
          besides: [],
          waitingFor: 'Two points or more, at different amps.',
          towardsNext: [],
        }),
      'run.facts': ({ runId }) => {
        const facts = gatherRun(store, runId);
        return facts === null ? failed('not-found', 'No such run.') : done(facts);
      },
      'run.history': (view) => store.readings.history(view),
      'run.at': ({ runId, atMs }) => done(readingsAt(store, runId, atMs) ?? []),
    };
  }
}
