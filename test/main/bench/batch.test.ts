import { expect, it } from 'vitest';
import { done, failed, type Outcome } from '../../../src-shared/contract/failure.ts';
import type { RecordEvent } from '../../../src-shared/record/run.ts';
import { BatchWriter, type Batch } from '../../../src-main/bench/batch.ts';
import type { Clock } from '../../../src-main/bench/clock.ts';

/** Timers that act when the test says so. */
function steppedClock() {
  let due: { atMs: number; act: () => void }[] = [];
  let nowMs = 0;
  const clock: Clock = {
    monoMs: () => nowMs,
    wallMs: () => nowMs,
    upMs: () => nowMs,
    after: (ms, act) => {
      const one = { atMs: nowMs + ms, act };
      due.push(one);
      return () => {
        due = due.filter((other) => other !== one);
      };
    },
    every: () => () => undefined,
  };
  const pass = (ms: number) => {
    nowMs += ms;
    const now = due.filter(({ atMs }) => atMs <= nowMs);
    due = due.filter(({ atMs }) => atMs > nowMs);
    for (const { act } of now) act();
  };
  /** Time passes, and what was due meanwhile is late. */
  const holdUp = (ms: number) => {
    nowMs += ms;
  };
  return { clock, pass, holdUp };
}

const event = (eventId: number): RecordEvent => ({
  eventId,
  sessionId: null,
  runId: null,
  wallMs: 0,
  monoMs: 0,
  kind: 'note',
  body: {},
});

function writer(answers: Outcome<unknown>[] = []) {
  const { clock, pass, holdUp } = steppedClock();
  const written: Batch[] = [];
  const troubles: (string | null)[] = [];
  const batch = new BatchWriter(
    {
      writeBatch: (one) => {
        const answer = answers.shift() ?? done(null);
        if (answer.ok) written.push(one);
        return answer;
      },
    },
    clock,
    (sentence) => troubles.push(sentence),
  );
  return { batch, pass, holdUp, written, troubles };
}

it('writes what came together, at most 200 ms after the first of it', () => {
  const { batch, pass, written } = writer();
  batch.event(event(1));
  pass(100);
  batch.event(event(2));
  expect(written).toEqual([]);
  pass(100);
  expect(written.map(({ events }) => events.map(({ eventId }) => eventId))).toEqual([[1, 2]]);
});

it('keeps a batch that the disk refused, says so once, and writes it with all that came since', () => {
  const full = failed('disk-full', 'The disk is full.');
  const { batch, pass, written, troubles } = writer([full, full]);
  batch.event(event(1));
  expect(batch.flush()).toBe(false);
  batch.event(event(2));
  pass(1000);
  expect(troubles).toEqual(['The disk is full.']);
  pass(1000);
  expect(written.map(({ events }) => events.map(({ eventId }) => eventId))).toEqual([[1, 2]]);
  expect(troubles).toEqual(['The disk is full.', null]);
});

it('writes nothing when nothing waits', () => {
  const { batch, written } = writer();
  expect(batch.flush()).toBe(true);
  expect(written).toEqual([]);
});

it('writes what has waited long enough before it takes anything newer, though its timer is late', () => {
  const { batch, holdUp, written } = writer();
  batch.event(event(1));
  holdUp(140);
  batch.event(event(2));
  expect(written).toEqual([]);
  holdUp(60);
  batch.event(event(3));
  expect(written.flatMap(({ events }) => events.map(({ eventId }) => eventId))).toEqual([1, 2, 3]);
});
