import type { Clock } from '../../../src-main/bench/clock.ts';

/** A clock that stands still until it is told to go on; what is due then happens in order. */
export interface HandClock extends Clock {
  /** Lets so much time pass. */
  pass(ms: number): void;
  /** The program is held up: time passes, and what was due meanwhile is late. */
  holdUp(ms: number): void;
  /** The computer sleeps: every clock but the one that never steps goes on. */
  sleep(ms: number): void;
  /** Somebody sets the computer's time. */
  setBy(ms: number): void;
}

interface Due {
  atMs: number;
  readonly everyMs: number | null;
  readonly act: () => void;
}

/** Begins at an instant of its own; the wall clock goes with it. */
export function handClock(beginMs = 1_000_000): HandClock {
  let nowMs = beginMs;
  let sleptMs = 0;
  let setMs = 0;
  const due = new Set<Due>();
  const add = (ms: number, everyMs: number | null, act: () => void) => {
    const one: Due = { atMs: nowMs + ms, everyMs, act };
    due.add(one);
    return () => void due.delete(one);
  };
  return {
    monoMs: () => nowMs,
    wallMs: () => 1_800_000_000_000 + nowMs + sleptMs + setMs,
    upMs: () => nowMs + sleptMs,
    after: (ms, act) => add(ms, null, act),
    every: (ms, act) => add(ms, ms, act),
    pass(ms) {
      const endMs = nowMs + ms;
      for (;;) {
        const next = [...due].filter(({ atMs }) => atMs <= endMs).sort((one, other) => one.atMs - other.atMs)[0];
        if (next === undefined) break;
        nowMs = Math.max(nowMs, next.atMs);
        if (next.everyMs === null) due.delete(next);
        else next.atMs += next.everyMs;
        next.act();
      }
      nowMs = endMs;
    },
    holdUp(ms) {
      nowMs += ms;
    },
    sleep(ms) {
      sleptMs += ms;
    },
    setBy(ms) {
      setMs += ms;
    },
  };
}
