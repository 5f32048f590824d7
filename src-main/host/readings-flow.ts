import type { ReadingColumns } from '../../src-shared/record/reading.ts';
import type { Frozen } from './service.ts';
import type { Later } from './timers.ts';

type Columns = Frozen<ReadingColumns>;

export interface ReadingsFlow {
  add(columns: readonly Columns[]): void;
  /** Sends at once what is waiting, so that what follows it cannot overtake it. */
  flush(): void;
  close(): void;
}

/** Just over a thirtieth of a second: at most 30 messages in any second. */
const readingsIntervalMs = 34;

const isSame = (one: Columns, other: Columns): boolean =>
  one.channel === other.channel && one.runId === other.runId && one.unit === other.unit;

const empty = ({ runId, channel, unit }: Columns): ReadingColumns => ({
  runId,
  channel,
  unit,
  atMs: [],
  kind: [],
  value: [],
  u: [],
  text: [],
});

function append(to: ReadingColumns, more: Columns): void {
  to.atMs.push(...more.atMs);
  to.kind.push(...more.kind);
  to.value.push(...more.value);
  to.u.push(...more.u);
  to.text.push(...more.text);
}

/**
 * Gathers live readings: the first go out at once, what follows within `readingsIntervalMs` together, one set of
 * columns for each run, channel and unit, in the order in which they came.
 */
export function createReadingsFlow(send: (columns: ReadingColumns[]) => void, later: Later): ReadingsFlow {
  let waiting: ReadingColumns[] = [];
  let stopRest: (() => void) | null = null;

  function rest() {
    stopRest?.();
    stopRest = later(readingsIntervalMs, () => {
      stopRest = null;
      emit();
    });
  }
  function emit() {
    if (waiting.length === 0) return;
    const gathered = waiting;
    waiting = [];
    rest();
    send(gathered);
  }
  return {
    add(columns) {
      for (const each of columns) {
        if (each.atMs.length === 0) continue;
        let growing = waiting.find((one) => isSame(one, each));
        if (growing === undefined) waiting.push((growing = empty(each)));
        append(growing, each);
      }
      if (stopRest === null) emit();
    },
    flush: emit,
    close() {
      stopRest?.();
      stopRest = null;
      waiting = [];
    },
  };
}
