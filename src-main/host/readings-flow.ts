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

function join(first: Columns, rest: readonly Columns[]): ReadingColumns {
  const all = [first, ...rest];
  return {
    runId: first.runId,
    channel: first.channel,
    unit: first.unit,
    atMs: all.flatMap((columns) => columns.atMs),
    kind: all.flatMap((columns) => columns.kind),
    value: all.flatMap((columns) => columns.value),
    u: all.flatMap((columns) => columns.u),
    text: all.flatMap((columns) => columns.text),
  };
}

/**
 * Gathers live readings: the first go out at once, what follows within `readingsIntervalMs` together, one set of
 * columns for each run, channel and unit, in the order in which they came.
 */
export function createReadingsFlow(send: (columns: ReadingColumns[]) => void, later: Later): ReadingsFlow {
  let waiting = new Map<string, [Columns, ...Columns[]]>();
  let stopRest: (() => void) | null = null;

  function rest() {
    stopRest?.();
    stopRest = later(readingsIntervalMs, () => {
      stopRest = null;
      emit();
    });
  }
  function emit() {
    if (waiting.size === 0) return;
    const gathered = [...waiting.values()];
    waiting = new Map();
    rest();
    send(gathered.map(([first, ...more]) => join(first, more)));
  }
  return {
    add(columns) {
      for (const each of columns) {
        if (each.atMs.length === 0) continue;
        const key = `${each.runId} ${each.channel} ${each.unit}`;
        const same = waiting.get(key);
        if (same === undefined) waiting.set(key, [each]);
        else same.push(each);
      }
      if (stopRest === null) emit();
    },
    flush: emit,
    close() {
      stopRest?.();
      stopRest = null;
      waiting.clear();
    },
  };
}
