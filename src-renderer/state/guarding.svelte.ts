import type { RequestInput } from '../../src-shared/contract/request.ts';
import { asksTheSame } from '../../src-shared/interlock/asks-the-same.ts';
import { isPowered, type GuardState } from '../../src-shared/interlock/state.ts';
import { stripView, type StripView } from '../frame/strip-view.ts';
import type { Connection } from './connection.svelte.ts';
import type { Present } from './present.svelte.ts';
import type { Place } from './route.svelte.ts';

/** Where the natural next act is done, when it is not done at the strip itself. */
export interface ActElsewhere {
  readonly label: string;
  /** The key that goes there; null when there is none. */
  readonly key: string | null;
  readonly place: Place;
}

/** The one act at the right edge of the strip. */
export type Act = 'power-is-off' | 'power-on' | ActElsewhere;

const bench = (label: string, key: string | null, part: string | null): ActElsewhere => ({
  label,
  key,
  place: { kind: 'bench', part },
});

function actFor(state: GuardState): Act {
  switch (state.kind) {
    case 'live':
    case 'tripped':
      return 'power-is-off';
    case 'ready':
      return 'power-on';
    case 'isolated':
      // What is read on a dead winding needs no power: its readings are the next thing.
      return state.setUp?.energised === false ? bench('Readings', null, 'readings') : bench('Ready check', 'R', null);
    case 'proving':
      return bench('Prove dead', 'P', 'prove');
    case 'unproved':
      return state.sessionId === null ? bench('Begin at the bench', null, null) : bench('Prove dead', 'P', 'prove');
  }
}

type Command = RequestInput<'guard.send'>['command'];

/** What brings power on, or stills what the person may not have seen yet, is said again by nobody but the person. */
const isForThePersonAlone = ({ kind }: Command): boolean => kind === 'alarm-heard' || /^(ready|power-on)-/.test(kind);

/** What the person says to the guard, with the revision they were looking at. */
export class Guarding {
  /** Why the last command was refused, until it is acknowledged or another is accepted. */
  refusal = $state<string | null>(null);
  readonly #connection: Connection;
  readonly #present: Present;
  /** "Power is off" was said while the program could not hear it. */
  #offWaiting = $state(false);

  constructor(connection: Connection, present: Present) {
    this.#connection = connection;
    this.#present = present;
    connection.onArrival(() => {
      if (!this.#offWaiting) return;
      void present.refresh().then(() => {
        this.#offWaiting = false;
        if (this.isEnergised) void this.powerIsOff();
      });
    });
  }

  get state(): GuardState | null {
    return this.#present.guard?.state ?? null;
  }

  /** Power counts as on. */
  get isEnergised(): boolean {
    return this.state !== null && isPowered(this.state);
  }

  /** "Power is off" is waiting for the program to come back. */
  get isOffWaiting(): boolean {
    return this.#offWaiting;
  }

  /** The natural next act; null while nothing is known. */
  get act(): Act | null {
    return this.state === null ? null : actFor(this.state);
  }

  /** The strip in words, at an instant of the program's clock. */
  strip(nowMs: number): StripView {
    const isConnected = this.#connection.isOpen;
    return stripView(this.state, {
      nowMs,
      wallNowMs: Date.now() - (this.#present.nowMs() - nowMs),
      isConnected,
      meters: this.#present.meters,
      setup: this.#present.setup,
    });
  }

  /** Stills the sound of every alarm; the alarms stand. */
  async stillAlarms(): Promise<void> {
    await this.send({ kind: 'alarm-heard' });
  }

  clearRefusal(): void {
    this.refusal = null;
  }

  /**
   * Sends one command with the revision on screen. True when the guard took it. When the bench moved on meanwhile, it is
   * sent once more if what the person saw still asks the same of them.
   */
  async send(command: Command): Promise<boolean> {
    const { state } = this;
    if (state === null) return false;
    let outcome = await this.#sendSeen(state, command);
    if (!outcome.ok && outcome.failure.code === 'stale') {
      await this.#present.refresh();
      const now = this.state;
      if (now !== null && !isForThePersonAlone(command) && asksTheSame(state, now)) {
        outcome = await this.#sendSeen(now, command);
      }
    }
    if (outcome.ok) this.#present.takeGuard(outcome.value);
    this.refusal = outcome.ok ? null : outcome.failure.message;
    return outcome.ok;
  }

  #sendSeen({ revision }: GuardState, command: Command) {
    return this.#connection.ask('guard.send', { revision, command });
  }

  /**
   * "Power is off", from anywhere. The guard takes it whatever revision was on screen. Without a connection it waits until
   * the program is back.
   */
  async powerIsOff(): Promise<void> {
    if (!this.#connection.isOpen) {
      this.#offWaiting = this.isEnergised;
      return;
    }
    const revision = this.state?.revision ?? 0;
    const outcome = await this.#connection.ask('guard.send', { revision, command: { kind: 'power-off' } });
    if (outcome.ok) {
      this.#present.takeGuard(outcome.value);
      this.refusal = null;
    } else {
      this.#offWaiting = outcome.failure.code === 'no-connection' && this.isEnergised;
      this.refusal = outcome.failure.message;
    }
  }

  beginPowerOn(): Promise<boolean> {
    return this.send({ kind: 'power-on-begun' });
  }

  async confirmPowerOn(): Promise<void> {
    await this.send({ kind: 'power-on-confirmed' });
  }

  async abandonPowerOn(): Promise<void> {
    if (this.state?.hold !== null) await this.send({ kind: 'power-on-let-go' });
  }
}
