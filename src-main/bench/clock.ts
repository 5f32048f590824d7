import { uptime } from 'node:os';

/** The program's clocks and timers, passed in so that a test can step them. */
export interface Clock {
  /** Milliseconds on the clock that never steps, from an arbitrary start. */
  monoMs(): number;
  /** Milliseconds since 1970; may step when the system's time is set. */
  wallMs(): number;
  /** Milliseconds since the computer was started, its sleep included; setting its time does not move it. */
  upMs(): number;
  /** Acts once after `ms`; the returned function calls it off. */
  after(ms: number, act: () => void): () => void;
  /** Acts every `ms` until called off. */
  every(ms: number, act: () => void): () => void;
}

export const systemClock: Clock = {
  monoMs: () => performance.now(),
  wallMs: () => Date.now(),
  upMs: () => uptime() * 1000,
  after: (ms, act) => {
    const timer = setTimeout(act, ms);
    return () => {
      clearTimeout(timer);
    };
  },
  every: (ms, act) => {
    const timer = setInterval(act, ms);
    timer.unref();
    return () => {
      clearInterval(timer);
    };
  },
};
