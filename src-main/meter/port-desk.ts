import { failed, done, type Outcome } from '../../src-shared/contract/failure.ts';
import type { PortSearch, Push, TriedLine } from '../../src-shared/contract/push.ts';
import type { SerialMeter } from '../../src-shared/meter/description.ts';
import type { PortSettings } from '../../src-shared/meter/port-settings.ts';
import { playedBack, type Sample } from '../../src-shared/meter/sample.ts';
import type { Clock } from '../bench/clock.ts';
import { listenToPort } from './listen-rates.ts';
import type { MeterHub } from './hub.ts';
import type { MeterPort } from './meter-port.ts';
import { replayPort } from './replay-port.ts';
import { tryMeter } from './try-line.ts';

type PortName = Pick<PortSettings, 'path' | 'identity'>;

interface Parts {
  readonly clock: Clock;
  readonly hub: MeterHub;
  readonly push: (push: Push) => void;
  /** Fills a channel of the open run: it is not let go. */
  readonly inUse: (meterId: number) => boolean;
}

/** Lines on trial are shown a few times a second, however fast the meter sends; of a flood the last lines. */
const showEveryMs = 100;
const mostShown = 50;

export const meterBusy = failed(
  'meter-in-use',
  'The meter is in use: it fills a channel of the open run, or watches over power that is declared on. ' +
    'Switch off, end the run, then come back; nothing is lost.',
);

/**
 * Ports that are looked at before a meter is described: one trial, replay or search at a time. What is asked is done in
 * the order in which it was asked, each after the one before has let its port go, so that no trial is left behind.
 */
export class PortDesk {
  readonly #parts: Parts;
  #queue: Promise<unknown> = Promise.resolve();
  /** Ends what runs; resolves when its port is free and the meter that held it before has it again. */
  #end: (() => Promise<void>) | null = null;
  #nextId = 1;

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  /** Opens the port of a description and pushes every line with how it was read. */
  try(meter: SerialMeter): Promise<Outcome<{ tryId: number }>> {
    return this.#inTurn(async () => {
      const held = await this.#letGo(meter.port);
      if (!held.ok) return held;
      return done({ tryId: this.#listen(meter, held.value) });
    });
  }

  /** Plays a kept sample of lines back through a description, at the times at which they came. */
  replay(meter: SerialMeter, sample: Sample): Promise<Outcome<{ tryId: number }>> {
    return this.#inTurn(() => {
      const pieces = playedBack(sample, meter.format.encoding);
      // Nobody is there to be asked: what answered then is heard as it came.
      const heard: SerialMeter = { ...meter, talk: { mode: 'listen' } };
      const tryId = this.#listen(heard, nothingToGiveBack, () => replayPort(pieces, this.#parts.clock));
      return Promise.resolve(done({ tryId }));
    });
  }

  /** Tries the usual settings on a port, pushing how far it is and what it hears. */
  find(path: string): Promise<Outcome<{ findId: number }>> {
    return this.#inTurn(async () => {
      const held = await this.#letGo({ path, identity: null });
      if (!held.ok) return held;
      return done({ findId: this.#search(path, held.value) });
    });
  }

  /** Ends whatever runs; resolves when its port is free. */
  stop(): Promise<void> {
    return this.#inTurn(() => Promise.resolve());
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#queue.then(async () => {
      const end = this.#end;
      this.#end = null;
      await end?.();
      return work();
    });
    this.#queue = turn.catch(() => undefined);
    return turn;
  }

  /** A saved meter on the port is let go for the trial; the answer takes it up again. */
  async #letGo(port: PortName): Promise<Outcome<() => Promise<void>>> {
    const { hub, inUse } = this.#parts;
    const holder = await hub.holderOf(port);
    if (holder === null) return done(nothingToGiveBack);
    if (inUse(holder.meterId)) return meterBusy;
    await hub.stop(holder.meterId);
    return done(async () => {
      await hub.start(holder.meterId, holder.description);
    });
  }

  /** `recording` stands in for the meter's port. */
  #listen(meter: SerialMeter, giveBack: () => Promise<void>, recording?: () => MeterPort): number {
    const { clock, push, hub } = this.#parts;
    const tryId = this.#nextId++;
    let lines: TriedLine[] = [];
    let heard = recording === undefined ? '' : 'Played back from the kept lines. Nothing comes from the port.';
    const show = () => {
      push({ kind: 'tried', tryId, lines, heard });
      lines = [];
    };
    const stopShowing = clock.every(showEveryMs, () => {
      if (lines.length > 0) show();
    });
    const running = tryMeter({
      meter,
      clock,
      onLine: (line, sentence) => {
        lines.push({ atMs: line.atMs, text: line.text, read: line, sentence });
        if (lines.length > mostShown) lines.shift();
      },
      onStatus: (status) => {
        if (recording === undefined) heard = status.sentence;
        show();
      },
      newPort: recording ?? ((settings) => hub.portFor(settings)),
    });
    this.#end = async () => {
      stopShowing();
      await running.stop();
      await giveBack();
    };
    return tryId;
  }

  #search(path: string, giveBack: () => Promise<void>): number {
    const { clock, push, hub } = this.#parts;
    const findId = this.#nextId++;
    const tell = (search: Omit<PortSearch, 'kind' | 'findId'>) => {
      push({ kind: 'port-search', findId, ...search });
    };
    const listening = listenToPort({
      path,
      clock,
      newPort: (settings) => hub.portFor(settings),
      onTrying: (trying, heard, step, steps) => {
        tell({ trying, heard, step, steps, outcome: null });
      },
    });
    const over = listening.result.then(async (outcome) => {
      await giveBack();
      tell({ trying: null, heard: '', step: 1, steps: 1, outcome: asTold(outcome) });
    });
    this.#end = async () => {
      listening.stop();
      await over;
    };
    return findId;
  }
}

const nothingToGiveBack = (): Promise<void> => Promise.resolve();

type Listened = Awaited<ReturnType<typeof listenToPort>['result']>;

function asTold(listened: Listened): PortSearch['outcome'] {
  if (listened.kind !== 'heard') {
    return { kind: listened.kind, sentence: listened.kind === 'stopped' ? '' : listened.sentence };
  }
  const { settings, hearing, sentence } = listened;
  const { sureness, encoding, decimal, sample } = hearing;
  return { kind: 'heard', settings, sureness, encoding, decimal, sample: [...sample], sentence };
}
