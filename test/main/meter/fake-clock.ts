import type { Clock } from '../../../src-main/bench/clock.ts';

/** A clock that moves only when it is told to; both its hands start apart. */
export function fakeClock(): Clock & { advance(ms: number): void; readonly waiting: number } {
  let now = 1000;
  let nextId = 0;
  const timers = new Map<number, { readonly at: number; readonly act: () => void }>();
  const after = (ms: number, act: () => void) => {
    const id = nextId++;
    timers.set(id, { at: now + ms, act });
    return () => {
      timers.delete(id);
    };
  };
  return {
    monoMs: () => now,
    wallMs: () => 1.7e12 + now,
    upMs: () => now,
    after,
    every: (ms, act) => {
      let callOff = () => undefined as void;
      const again = () => {
        callOff = after(ms, () => {
          act();
          again();
        });
      };
      again();
      return () => {
        callOff();
      };
    },
    advance(ms) {
      const end = now + ms;
      for (;;) {
        const due = [...timers].filter(([, { at }]) => at <= end).sort(([, one], [, other]) => one.at - other.at);
        const [first] = due;
        if (first === undefined) break;
        timers.delete(first[0]);
        now = Math.max(now, first[1].at);
        first[1].act();
      }
      now = end;
    },
    get waiting() {
      return timers.size;
    },
  };
}
