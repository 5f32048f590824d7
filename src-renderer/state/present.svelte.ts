import type { Failure } from '../../src-shared/contract/failure.ts';
import type { GuardView } from '../../src-shared/contract/guard-view.ts';
import type { MeterState } from '../../src-shared/contract/meter-view.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { RequestValue } from '../../src-shared/contract/request.ts';
import { isPowered } from '../../src-shared/interlock/state.ts';
import type { Run } from '../../src-shared/record/run.ts';
import type { Session } from '../../src-shared/record/session.ts';
import { settingsAtFirst, type Settings } from '../../src-shared/record/settings.ts';
import type { Connection } from './connection.svelte.ts';

type Meters = RequestValue<'app.present'>['meters'];

/** Something that the person must be told, until they say that they have seen it. */
export interface Told {
  readonly code: string;
  readonly sentence: string;
  /** On the program's clock. */
  readonly atMs: number;
  /** It happened while this page was away. */
  readonly whileAway: boolean;
}

const touchesPresent = new Set(['meter', 'session', 'run', 'settings', 'build']);

/** What is so at this moment, kept up to date from pushes: guard, session, run, meters, settings. */
export class Present {
  /** False until the program has told for the first time. */
  isKnown = $state(false);
  failure = $state.raw<Failure | null>(null);
  version = $state('');
  dataFolder = $state('');
  warning = $state<string | null>(null);
  settings = $state.raw<Settings>(settingsAtFirst);
  guard = $state.raw<GuardView | null>(null);
  session = $state.raw<Session | null>(null);
  run = $state.raw<Run | null>(null);
  /** The last run of the open session, ended or not. */
  lastRun = $state.raw<Run | null>(null);
  /** Every meter as it stands: another list with each value that comes. */
  meters = $state.raw<Meters>([]);
  /** The same meters for what they are: what is worked out from this is left alone by the values that come. */
  described = $state.raw<readonly Pick<Meters[number], 'meterId' | 'description'>[]>([]);
  setup = $state.raw<RequestValue<'app.present'>['setup']>(null);
  /** Alarms not yet acknowledged here, oldest first. */
  told = $state.raw<readonly Told[]>([]);
  readonly #connection: Connection;
  readonly #endings: readonly (() => void)[];
  /** The program's monotonic clock minus this page's. */
  #clockAheadMs = 0;
  #isCatchingUp = false;
  #asking: Promise<void> | null = null;
  #askingAgain: Promise<void> | null = null;

  constructor(connection: Connection) {
    this.#connection = connection;
    this.#endings = [
      connection.onArrival(() => {
        this.#isCatchingUp = this.isKnown;
        void this.refresh();
      }),
      connection.onPush((push) => this.#hear(push)),
    ];
  }

  /** The program's monotonic clock now, in ms. */
  nowMs(): number {
    return performance.now() + this.#clockAheadMs;
  }

  /** Asks for everything again; settles with an answer asked for after this call. Many calls lead to one question. */
  refresh(): Promise<void> {
    if (this.#asking === null) {
      this.#asking = this.#ask().finally(() => {
        this.#asking = null;
      });
      return this.#asking;
    }
    this.#askingAgain ??= this.#asking.then(() => {
      this.#askingAgain = null;
      return this.refresh();
    });
    return this.#askingAgain;
  }

  /** Takes a guard view that came as the answer to a command; an older one than is known changes nothing. */
  takeGuard(view: GuardView): void {
    if (this.guard !== null && view.nowMs < this.guard.nowMs) return;
    this.#clockAheadMs = view.nowMs - performance.now();
    this.guard = view;
    // Whether the plug was pulled is answered by saying that power is off.
    const isAnswered = ({ code }: Told) => code === 'volts-gone' && !isPowered(view.state);
    if (this.told.some(isAnswered)) this.told = this.told.filter((told) => !isAnswered(told));
  }

  takeSettings(settings: Settings): void {
    this.settings = settings;
  }

  acknowledge(told: Told): void {
    this.told = this.told.filter((other) => other !== told);
  }

  stop(): void {
    for (const end of this.#endings) end();
  }

  async #ask(): Promise<void> {
    const outcome = await this.#connection.ask('app.present', {});
    this.#isCatchingUp = false;
    if (outcome.ok) this.#take(outcome.value);
    else if (outcome.failure.code !== 'no-connection') this.failure = outcome.failure;
  }

  #take(value: RequestValue<'app.present'>): void {
    this.#clockAheadMs = value.nowMs - performance.now();
    this.failure = null;
    this.version = value.version;
    this.dataFolder = value.dataFolder;
    this.warning = value.warning;
    this.settings = value.settings;
    this.guard = value.guard;
    this.session = value.session;
    this.run = value.run;
    this.lastRun = value.lastRun;
    this.meters = value.meters;
    this.described = value.meters;
    this.setup = value.setup;
    this.isKnown = true;
  }

  #hear(push: Push): void {
    switch (push.kind) {
      case 'guard':
        return this.takeGuard(push.guard);
      case 'run':
        this.run = push.run;
        return;
      case 'meter':
        return this.#takeMeter(push.meter);
      case 'alarm':
        this.told = [
          ...this.told.filter((other) => other.code !== push.code || other.sentence !== push.sentence),
          { code: push.code, sentence: push.sentence, atMs: push.atMs, whileAway: this.#isCatchingUp },
        ];
        return;
      case 'changed':
        if (touchesPresent.has(push.what)) void this.refresh();
        return;
      default:
        return;
    }
  }

  #takeMeter(state: MeterState): void {
    this.meters = this.meters.map((meter) => (meter.meterId === state.meterId ? { ...meter, state } : meter));
  }
}
