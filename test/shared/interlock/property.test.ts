import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { checkById, type CheckId } from '../../../src-shared/interlock/checks.ts';
import type { InvalidatingEvent } from '../../../src-shared/interlock/check.ts';
import { mustsBeforePower, proofChecks } from '../../../src-shared/interlock/demand.ts';
import type { Reduced } from '../../../src-shared/interlock/effect.ts';
import type { GuardEvent } from '../../../src-shared/interlock/event.ts';
import { reduce } from '../../../src-shared/interlock/reduce.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import { acts, frozen, pauses, wildEvents, type Act } from './model.ts';
import { minute, openedSession, second } from './scene.ts';

// Whole stories take seconds; on a busy computer many.
vi.setConfig({ testTimeout: 120_000 });

const runs = { numRuns: 300, seed: 20261125 };
const steps = fc.array(fc.tuple(acts, pauses), { maxLength: 40 });

/** One event with the state before and after it. */
interface Moment {
  readonly before: GuardState;
  readonly event: GuardEvent;
  readonly reduced: Reduced;
}

/** Plays the acts one after another, every event through `see`; time goes on from the last event. */
function play(story: readonly (readonly [Act, number])[], see: (moment: Moment) => void): void {
  let state = frozen(openedSession());
  let now = 0;
  for (const [act, pause] of story) {
    now += pause;
    for (const event of act(state, now)) {
      now = Math.max(now, event.atMs);
      const reduced = reduce(state, frozen(event));
      see({ before: state, event, reduced });
      state = frozen(reduced.state);
    }
  }
}

const settledPart = ({ watch: _watch, revision: _revision, ...rest }: GuardState): unknown => rest;

describe('whatever happens', () => {
  test('the revision counts up by one exactly when something but the watch changed', () => {
    fc.assert(
      fc.property(steps, (story) => {
        play(story, ({ before, event, reduced: { state } }) => {
          const changed = JSON.stringify(settledPart(before)) !== JSON.stringify(settledPart(state));
          const step = state.revision - before.revision;
          const idle = event.kind === 'tick' || event.kind === 'reading-seen';
          if (changed ? step !== 1 : step !== 0 && (idle || step !== 1)) throw new Error(`Revision went up by ${step}`);
        });
      }),
      runs,
    );
  });

  test('a state that crosses a wire or a disk is the same state, and acts the same', () => {
    fc.assert(
      fc.property(steps, (story) => {
        play(story, ({ before, event, reduced }) => {
          const copied = JSON.parse(JSON.stringify(before)) as GuardState;
          expect(copied).toEqual(before);
          expect(reduce(copied, event).state).toEqual(reduced.state);
        });
      }),
      { ...runs, numRuns: 40 },
    );
  });

  test('volts seen while power is not declared make it unproved, with an alarm that stands', () => {
    let found = 0;
    fc.assert(
      fc.property(steps, (story) => {
        play(story, ({ before, event, reduced: { state } }) => {
          if (event.kind !== 'reading-seen' || event.channel !== 'primary-volts') return;
          const { reading } = event;
          const notOn = state.kind !== 'live' && state.kind !== 'tripped';
          const proving = before.proofInProgress !== null && state.proofInProgress !== null;
          if (!notOn || proving || state.setUp === null || reading.kind !== 'number' || Math.abs(reading.value) < 3)
            return;
          found += 1;
          expect(state.kind).toBe('unproved');
          expect(state.alarms.map(({ code }) => code)).toContain('volts-seen');
        });
      }),
      runs,
    );
    expect(found).toBeGreaterThan(50);
  });

  test('a restart is unproved, and knows of no confirmation', () => {
    let found = 0;
    fc.assert(
      fc.property(steps, (story) => {
        play(story, ({ event, reduced: { state } }) => {
          if (event.kind !== 'restarted') return;
          found += 1;
          expect(state.kind).toBe('unproved');
          expect(state.checks).toEqual({});
          expect(state.lastProof).toBeNull();
        });
      }),
      runs,
    );
    expect(found).toBeGreaterThan(15);
  });

  test('"power is off" is never refused, and never leads to anything but proving or unproved', () => {
    fc.assert(
      fc.property(steps, (story) => {
        play(story, ({ event, reduced: { state, refusal } }) => {
          if (event.kind !== 'power-off') return;
          expect(refusal).toBeNull();
          expect(['proving', 'unproved']).toContain(state.kind);
        });
      }),
      runs,
    );
  });

  test('a proof stands only in isolated and ready, whole, and no older than it may be', () => {
    fc.assert(
      fc.property(steps, (story) => {
        play(story, ({ reduced: { state } }) => {
          const standing = state.lastProof !== null && state.lastProof.endedAtMs === null;
          expect(standing).toBe(state.kind === 'isolated' || state.kind === 'ready');
          if (state.hold !== null) expect(state.kind).toBe('ready');
          if (!standing || state.lastProof === null) return;
          for (const id of proofChecks[state.lastProof.kind]) {
            const mark = state.checks[id];
            expect(mark, id).toBeDefined();
            const holds = checkById(id)?.holds;
            if (mark !== undefined && holds?.kind === 'time') {
              expect(state.watch.nowMs - mark.atMs).toBeLessThan(30 * minute);
            }
          }
        });
      }),
      runs,
    );
  });

  test('no figure, however wild, throws or leaves a number that JSON does not know', () => {
    fc.assert(
      fc.property(steps, fc.array(wildEvents, { maxLength: 30 }), (story, wild) => {
        let state: GuardState = openedSession();
        play(story, ({ reduced }) => {
          state = reduced.state;
        });
        for (const event of wild) {
          state = frozen(reduce(frozen(state), frozen(event)).state);
          expect(JSON.parse(JSON.stringify(state))).toEqual(state);
        }
      }),
      { ...runs, numRuns: 200 },
    );
  });
});

/** What an event says about the checks, read from the event alone: a second, simpler book-keeping beside the guard's. */
class Book {
  readonly #confirmed = new Map<string, number>();
  readonly #ended: { readonly event: InvalidatingEvent; readonly atMs: number; readonly order: number }[] = [];
  readonly #order = new Map<string, number>();
  #count = 0;
  circuitAtMs: number | null = null;

  see({ before, event, reduced: { state, refusal } }: Moment): void {
    this.#count += 1;
    const now = state.watch.nowMs;
    if (event.kind === 'restarted' || (event.kind === 'session-opened' && refusal === null)) this.#confirmed.clear();
    if (state.why.code === 'clock-stepped' || now < before.watch.nowMs) this.#confirmed.clear();
    if (state.why.code === 'volts-seen') this.#end('volts', now);
    if (event.kind === 'slept' && refusal === null) {
      for (const [id, atMs] of this.#confirmed) this.#confirmed.set(id, atMs - event.sleptMs);
      if (event.sleptMs >= minute) this.#end('away', now);
    }
    if (refusal !== null) return;
    if (event.kind === 'check-confirmed') this.#confirm(event.checkId, now);
    if (event.kind === 'check-withdrawn') this.#confirmed.delete(event.checkId);
    if (event.kind === 'plug-out-proved') this.#confirm('pd-plug', now);
    if (event.kind === 'changed') for (const what of event.what) this.#end(short[what], now);
    if (event.kind === 'power-off' && before.kind !== 'proving' && before.kind !== 'unproved') this.#end('pow', now);
    if (event.kind === 'proof-step' && event.step === 0) this.circuitAtMs = null;
    if (event.kind === 'proof-step' && event.step === 1) this.circuitAtMs ??= now;
  }

  poweredOn(now: number): void {
    this.#end('pow', now);
  }

  #confirm(id: string, atMs: number): void {
    this.#confirmed.set(id, atMs);
    this.#order.set(id, this.#count);
  }

  #end(event: InvalidatingEvent, atMs: number): void {
    this.#ended.push({ event, atMs, order: this.#count });
  }

  /** Whether the book shows this line confirmed, not ended since, and not too old at `now`. */
  isFresh(id: CheckId, now: number): boolean {
    const atMs = this.#confirmed.get(id);
    const order = this.#order.get(id) ?? 0;
    const check = checkById(id);
    if (atMs === undefined || check === undefined) return false;
    const ended = this.#ended.some((one) => one.order > order && check.invalidatedBy.includes(one.event));
    const most = {
      time: check.holds.kind === 'time' && check.holds.whichTime === 'bench' ? 60 : 30,
      setup: 720,
      day: 1440,
    };
    const minutes = check.holds.kind in most ? most[check.holds.kind as keyof typeof most] : Infinity;
    return !ended && now - atMs < minutes * minute;
  }
}

const short = {
  meter: 'meter',
  wiring: 'wire',
  supply: 'supply',
  winding: 'build',
  moved: 'move',
  load: 'load',
  away: 'away',
  'hand-over': 'hand',
  plug: 'plug',
} as const;

describe('power', () => {
  test('is never live without a ready in which every must stood fresh on a proof that was not too old', () => {
    let lived = 0;
    fc.assert(
      fc.property(steps, (story) => {
        const book = new Book();
        play(story, (moment) => {
          const { before, event, reduced } = moment;
          const { state } = reduced;
          if (state.kind === 'live' && before.kind !== 'live') {
            lived += 1;
            const now = state.watch.nowMs;
            expect(event.kind).toBe('power-on-confirmed');
            expect(before.kind).toBe('ready');
            expect(before.hold === null ? 0 : now - before.hold.begunAtMs).toBeGreaterThanOrEqual(second);
            expect(before.limits).not.toBeNull();
            for (const { id, check } of mustsBeforePower(before)) {
              if (check.decidedBy === 'person') expect(book.isFresh(id, now), id).toBe(true);
            }
            expect(book.isFresh('pd-plug', now)).toBe(true);
            const kind = before.lastProof?.kind;
            if (kind === 'plug-out-low-volts') expect(before.grade).toBe('handful');
            else {
              expect(book.isFresh('pd-cap', now)).toBe(true);
              expect(book.isFresh('pd-lead', now)).toBe(true);
            }
            if (kind === 'meter') expect(now - (book.circuitAtMs ?? -Infinity)).toBeLessThan(30 * minute);
            book.poweredOn(now);
          }
          book.see(moment);
        });
      }),
      runs,
    );
    expect(lived).toBeGreaterThan(200);
  });

  test('leaves live only by the person, a limit, or a new beginning', () => {
    const left = new Map<string, number>();
    fc.assert(
      fc.property(steps, (story) => {
        play(story, ({ before, event, reduced: { state } }) => {
          if (before.kind !== 'live' || state.kind === 'live') return;
          const way = `${event.kind === 'power-off' || event.kind === 'restarted' ? event.kind : 'else'} ${state.kind}`;
          left.set(way, (left.get(way) ?? 0) + 1);
          expect(['power-off proving', 'restarted unproved', 'else tripped']).toContain(way);
        });
      }),
      runs,
    );
    expect([...left.keys()].sort()).toEqual(['else tripped', 'power-off proving', 'restarted unproved']);
  });

  test('goes off by a limit exactly when one is crossed outside the blanking', () => {
    let tripped = 0;
    fc.assert(
      fc.property(steps, (story) => {
        play(story, ({ before, event, reduced: { state } }) => {
          if (before.kind !== 'live' || event.kind !== 'reading-seen' || event.reading.kind !== 'number') return;
          const limit = before.limits.channels.find(({ channel }) => channel === event.channel)?.max;
          const watch = before.watch.channels[event.channel];
          if (limit === undefined || limit === null || event.reading.value === undefined) return;
          if (state.kind === 'tripped' && state.trip.code !== 'limit') return;
          const on = event.atMs - before.power.onAtMs;
          const count = (watch?.sincePower ?? 0) + 1;
          const blanked = event.channel === 'line-amps' && (on < 2000 || (count <= 3 && on < 5000));
          const crossed = event.reading.value > limit && !blanked;
          if (crossed) tripped += 1;
          expect(state.kind === 'tripped').toBe(crossed);
        });
      }),
      runs,
    );
    expect(tripped).toBeGreaterThan(30);
  });
});
