import { realpath } from 'node:fs/promises';
import {
  scaled,
  soleValue,
  type ExpectedUnit,
  type Expectations,
  type MeterReading,
  type MeterValue,
} from '../../src-shared/meter/channel-reading.ts';
import type { MeterDescription, PracticeMeter } from '../../src-shared/meter/description.ts';
import { linkStatus, type LinkStatus } from '../../src-shared/meter/link-status.ts';
import type { PortSettings } from '../../src-shared/meter/port-settings.ts';
import { readTyped, type TypedMark, type TypedRefusal } from '../../src-shared/meter/typed-entry.ts';
import { assertNever } from '../../src-shared/quantity/assert-never.ts';
import type { Clock } from '../bench/clock.ts';
import { Link } from './link.ts';
import type { MeterPort } from './meter-port.ts';
import { systemPort } from './system-port.ts';
import { practiceLine, practicePort, type PracticeSource } from './practice-port.ts';
import { listPorts, whereIs, type PortList } from './ports.ts';

export interface HubOptions {
  readonly clock: Pick<Clock, 'monoMs' | 'wallMs' | 'after'>;
  /** Hears each reading at once; what it does is one synchronous step. */
  readonly onReading: (meterId: number, reading: MeterReading) => void;
  readonly onStatus: (meterId: number, status: LinkStatus) => void;
  /** The ports behind the links; the system's own when left out. */
  readonly newPort?: (settings: PortSettings) => MeterPort | Promise<MeterPort>;
  readonly listPorts?: () => Promise<PortList>;
  /** What practice meters are joined to; without it there are none. */
  readonly practice?: (meterId: number, meter: PracticeMeter) => PracticeSource;
}

/** Why a meter could not be started, or a typed value not be taken. */
export type HubRefusal = 'already-started' | 'port-taken' | 'no-practice' | 'not-started' | 'not-typed' | TypedRefusal;

export type HubOutcome =
  { readonly ok: true } | { readonly ok: false; readonly code: HubRefusal; readonly sentence: string };

/** How a typed value comes. */
interface Entry {
  readonly mark?: TypedMark;
  /** The meter sends by itself, but somebody reads it. */
  readonly byEye?: boolean;
}

interface Started {
  readonly description: MeterDescription;
  readonly link: Link | null;
  /** The port as the system knows it, whatever name led to it; null when there is none. An adapter that is away has none. */
  port: string | null;
  expected: Expectations;
  status: LinkStatus;
}

const done: HubOutcome = { ok: true };
const refused = (code: HubRefusal, sentence: string): HubOutcome => ({ ok: false, code, sentence });

/** The port behind a path: two names of one adapter are one port. */
const behind = (path: string): Promise<string> => realpath(path).catch(() => path);

/** All meters in use: their links, what they say, and what is typed for them. Two meters never share a port. */
export class MeterHub {
  readonly #options: HubOptions;
  readonly #meters = new Map<number, Started>();
  /** What is under way with each meter: whatever comes next waits for it, so that no link is left behind. */
  readonly #turns = new Map<number, Promise<unknown>>();

  constructor(options: HubOptions) {
    this.#options = options;
  }

  /** Begins with a meter. Refused while it is in use already, or while another holds the same port. */
  start(meterId: number, description: MeterDescription): Promise<HubOutcome> {
    return this.#inTurn(meterId, () => this.#start(meterId, description));
  }

  /** Goes on with a meter by another description; of two that come close together the later one holds. */
  restart(meterId: number, description: MeterDescription): Promise<HubOutcome> {
    return this.#inTurn(meterId, async () => {
      await this.#stop(meterId);
      return this.#start(meterId, description);
    });
  }

  #inTurn<T>(meterId: number, act: () => Promise<T>): Promise<T> {
    const before = this.#turns.get(meterId) ?? Promise.resolve();
    const turn = before.then(act);
    this.#turns.set(meterId, turn);
    return turn.finally(() => {
      if (this.#turns.get(meterId) === turn) this.#turns.delete(meterId);
    });
  }

  async #start(meterId: number, description: MeterDescription): Promise<HubOutcome> {
    const port = description.kind === 'serial' ? await behind(await this.#pathOf(description.port)) : null;
    if (port !== null) await this.#lookForMoved();
    if (this.#meters.has(meterId)) return refused('already-started', `${description.label} is in use already.`);
    const holder = [...this.#meters.values()].find((other) => port !== null && other.port === port);
    if (holder !== undefined) return refused('port-taken', `${port} is in use for ${holder.description.label}.`);
    if (description.kind === 'practice' && this.#options.practice === undefined) {
      return refused('no-practice', 'There is no practice bench here.');
    }
    const state = description.kind === 'keyboard' ? 'keyboard' : 'connecting';
    const link = this.#linkFor(meterId, description);
    const status = linkStatus(state, this.#options.clock.monoMs());
    this.#meters.set(meterId, { description, link, port, expected: {}, status });
    if (link === null) this.#options.onStatus(meterId, status);
    link?.start();
    return done;
  }

  /** Ends with a meter; resolves when its port is free. Nothing of it is heard after the call. */
  stop(meterId: number): Promise<void> {
    return this.#inTurn(meterId, () => this.#stop(meterId));
  }

  async #stop(meterId: number): Promise<void> {
    const started = this.#meters.get(meterId);
    if (started === undefined) return;
    started.status = linkStatus('off', this.#options.clock.monoMs());
    await started.link?.stop();
    this.#meters.delete(meterId);
    this.#options.onStatus(meterId, started.status);
  }

  async stopAll(): Promise<void> {
    await Promise.all([...this.#turns.keys(), ...this.#meters.keys()].map((meterId) => this.stop(meterId)));
  }

  /** What the meter's channels take, by the name of the value. Another unit is refused and counts as silence. */
  expect(meterId: number, expected: Expectations): void {
    const started = this.#meters.get(meterId);
    if (started === undefined) return;
    started.expected = expected;
    started.link?.expect(expected);
  }

  /** Where every meter in use stands. */
  statuses(): ReadonlyMap<number, LinkStatus> {
    return new Map([...this.#meters].map(([meterId, { status }]) => [meterId, status]));
  }

  /**
   * Takes a value that was typed for a meter of the keyboard kind, or for one that is read by eye; it goes the way of
   * every reading.
   */
  enter(
    meterId: number,
    typed: string,
    channel: ExpectedUnit,
    { mark = 'either', byEye = false }: Entry = {},
  ): HubOutcome {
    const started = this.#meters.get(meterId);
    if (started === undefined) return refused('not-started', 'This meter is not in use.');
    const { description } = started;
    if (description.kind !== 'keyboard' && !byEye)
      return refused('not-typed', `${description.label} sends its values by itself.`);
    const scale = description.scales.find(({ becomes }) => becomes === channel.unit);
    const entry = readTyped(typed, scale === undefined ? channel : { ...channel, unit: scale.unit }, mark);
    if (entry.kind === 'refused') return refused(entry.code, entry.sentence);
    const value: MeterValue =
      entry.kind === 'number' ? scaled(entry, description.scales) : { ...entry, unit: channel.unit };
    const { clock, onReading } = this.#options;
    const stamp = { meterId, name: soleValue, atMs: clock.monoMs(), wallMs: clock.wallMs() };
    onReading(meterId, { ...value, ...stamp, origin: 'keyboard', practice: false });
    return done;
  }

  /** The meter in use whose port this is, by whatever name; null when there is none. */
  async holderOf(
    port: Pick<PortSettings, 'path' | 'identity'>,
  ): Promise<{ readonly meterId: number; readonly description: MeterDescription } | null> {
    await Promise.all(this.#turns.values());
    const path = await behind(await this.#pathOf(port));
    await this.#lookForMoved();
    for (const [meterId, { description, port: held }] of this.#meters) {
      if (held === path) return { meterId, description };
    }
    return null;
  }

  /** A new port with these settings, not opened, wherever its adapter is now. */
  async portFor(settings: PortSettings): Promise<MeterPort> {
    const { newPort = systemPort } = this.#options;
    return newPort({ ...settings, path: await this.#pathOf(settings) });
  }

  /** A lead that was pulled leaves its port to whatever is plugged in next: where is each of those meters now? */
  async #lookForMoved(): Promise<void> {
    for (const started of this.#meters.values()) {
      const { description, status } = started;
      if (description.kind !== 'serial' || (status.state !== 'lost' && status.state !== 'failed')) continue;
      started.port = await behind(await this.#pathOf(description.port));
    }
  }

  #pathOf(port: Pick<PortSettings, 'path' | 'identity'>): Promise<string> {
    return whereIs(port, this.#options.listPorts ?? listPorts);
  }

  #linkFor(meterId: number, description: MeterDescription): Link | null {
    const { practice, clock, onReading, onStatus } = this.#options;
    const common = {
      meterId,
      clock,
      onReading: (reading: MeterReading) => {
        onReading(meterId, reading);
      },
      onStatus: (status: LinkStatus) => {
        const started = this.#meters.get(meterId);
        if (started !== undefined) started.status = status;
        onStatus(meterId, status);
      },
    };
    switch (description.kind) {
      case 'keyboard':
        return null;
      case 'serial':
        return new Link({
          ...common,
          meter: description,
          origin: 'meter',
          newPort: () => this.portFor(description.port),
        });
      case 'practice': {
        const source = practice?.(meterId, description);
        if (source === undefined) return null;
        return new Link({
          ...common,
          meter: practiceLine(description),
          origin: 'practice',
          newPort: () => practicePort(description, source, meterId, clock),
        });
      }
      default:
        return assertNever(description);
    }
  }
}
