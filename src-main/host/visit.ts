import * as v from 'valibot';
import { contractVersion, FromPage, type ToPage } from '../../src-shared/contract/envelope.ts';
import { failed, type Failure } from '../../src-shared/contract/failure.ts';
import type { Backlog, NumberedPush } from './backlog.ts';
import type { Connection, Visit } from './connection.ts';
import type { Route } from './route.ts';
import type { Later } from './timers.ts';

/** Bounds on what one page may cost. */
export interface VisitLimits {
  /** The longest message that is read, in characters. */
  readonly longestMessage: number;
  /** Requests of one page under way at once. */
  readonly requestsAtOnce: number;
  /** Above this many bytes not yet taken, live readings are left out. */
  readonly slowBytes: number;
  /** Above this many bytes the connection is ended: the page comes back and is given the events that it missed. */
  readonly stalledBytes: number;
}

export const visitLimits: VisitLimits = {
  longestMessage: 1_048_576,
  requestsAtOnce: 64,
  slowBytes: 262_144,
  stalledBytes: 16_777_216,
};

const missedCheckMs = 200;

/** What all visits of one program share. */
export interface Hall {
  readonly life: string;
  readonly backlog: Backlog;
  readonly routes: ReadonlyMap<string, Route>;
  readonly later: Later;
  readonly limits: VisitLimits;
  /** True to hold every reply against its schema before it goes. */
  readonly checkReplies: boolean;
  /** The number of the last push. */
  readonly latest: () => number;
  /** Keeps a bug with its stack for whoever looks; returns the reference to tell the page. */
  readonly blame: (what: string, cause: unknown) => string;
}

export interface OpenVisit extends Visit {
  /** Passes a push on, or counts its readings as missed. */
  tell(push: NumberedPush): void;
}

const pushText = (sequence: number, readings: number) =>
  JSON.stringify({ kind: 'push', sequence, push: { kind: 'readings-missed', readings } } satisfies ToPage);

/** The number under which a message asked to be answered, as far as it can be made out; 0 when it cannot. */
function idOf(message: unknown): number {
  if (typeof message !== 'object' || message === null || !('id' in message)) return 0;
  return Number.isSafeInteger(message.id) && Number(message.id) >= 0 ? Number(message.id) : 0;
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/**
 * One page's visit. `hello` comes first; then requests are answered as their services finish. Pushes arrive with rising
 * numbers: a number is left out only where readings were, and `readings-missed`, which carries the last number that it
 * stands for, comes before anything later.
 */
export function openVisit(connection: Connection, hall: Hall): OpenVisit {
  const { limits } = hall;
  let stage: 'new' | 'greeted' | 'outdated' | 'gone' = 'new';
  let underWay = 0;
  let missed = 0;
  let missedUpTo = 0;
  let stopCheck: (() => void) | null = null;

  const send = (message: ToPage) => {
    if (stage !== 'gone') connection.send(JSON.stringify(message));
  };
  const refuse = (id: number, failure: Failure) => {
    send({ kind: 'refusal', id, ok: false, failure });
  };
  const refuseBug = (id: number, what: string, cause: unknown) => {
    const reference = hall.blame(what, cause);
    const message = `The program met an error of its own (reference ${reference}). What was recorded before is kept.`;
    refuse(id, failed('internal', message, { detail: { reference } }).failure);
  };
  const badMessage = (id: number, message: string) => {
    refuse(id, failed('bad-message', message).failure);
  };

  function tellMissed() {
    stopCheck?.();
    stopCheck = null;
    if (missed === 0) return;
    connection.send(pushText(missedUpTo, missed));
    missed = 0;
  }
  function checkLater() {
    stopCheck ??= hall.later(missedCheckMs, () => {
      stopCheck = null;
      if (connection.bufferedAmount > limits.slowBytes) checkLater();
      else tellMissed();
    });
  }
  function miss(push: NumberedPush) {
    missed += push.readings;
    missedUpTo = push.sequence;
  }

  function greet(hello: Extract<FromPage, { kind: 'hello' }>) {
    const known = hello.contract === contractVersion;
    const { seen } = hello;
    const since = known && seen?.life === hall.life ? hall.backlog.since(seen.sequence) : null;
    const sequence = since === null || seen === null ? hall.latest() : seen.sequence;
    send({ kind: 'welcome', contract: contractVersion, life: hall.life, sequence, afresh: since === null });
    stage = known ? 'greeted' : 'outdated';
    for (const push of since ?? []) {
      if (push.readings > 0) {
        miss(push);
      } else {
        tellMissed();
        connection.send(push.text);
      }
    }
    tellMissed();
  }

  async function answer(id: number, name: string, input: unknown) {
    const route = hall.routes.get(name);
    if (route === undefined) {
      refuse(id, failed('unknown-request', `There is no request "${name.slice(0, 80)}".`).failure);
      return;
    }
    if (underWay >= limits.requestsAtOnce) {
      refuse(id, failed('busy', 'Too many requests at once. Wait for answers, then ask again.').failure);
      return;
    }
    underWay += 1;
    try {
      const outcome = await route.answer(input);
      if (!outcome.ok) {
        refuse(id, outcome.failure);
        return;
      }
      const reply = { kind: 'reply', id, ok: true, value: outcome.value } satisfies ToPage;
      const misfit = hall.checkReplies ? route.misfit(JSON.parse(JSON.stringify(reply.value) ?? 'null')) : null;
      if (misfit === null) send(reply);
      else refuseBug(id, `The reply to ${name} does not fit`, misfit);
    } catch (cause) {
      refuseBug(id, name, cause);
    } finally {
      underWay -= 1;
    }
  }

  return {
    message(text) {
      if (text.length > limits.longestMessage) {
        badMessage(0, `A message may have at most ${limits.longestMessage} characters.`);
        return;
      }
      const raw = parse(text);
      const read = v.safeParse(FromPage, raw);
      if (!read.success) badMessage(idOf(raw), 'This is not a message of the contract.');
      else if (read.output.kind === 'hello') {
        if (stage === 'new') greet(read.output);
        else badMessage(0, 'This page has said hello before.');
      } else if (stage === 'new') badMessage(read.output.id, 'Hello comes first.');
      else if (stage === 'outdated') badMessage(read.output.id, 'This page is of another version. Load it again.');
      else void answer(read.output.id, read.output.name, read.output.input);
    },
    closed() {
      stage = 'gone';
      stopCheck?.();
      stopCheck = null;
    },
    tell(push) {
      if (stage !== 'greeted') return;
      if (push.readings > 0 && connection.bufferedAmount > limits.slowBytes) {
        miss(push);
        checkLater();
        return;
      }
      tellMissed();
      connection.send(push.text);
      if (connection.bufferedAmount > limits.stalledBytes) connection.close('This page takes nothing any more.');
    },
  };
}
