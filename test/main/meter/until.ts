import { setTimeout } from 'node:timers/promises';

/** Waits for something to become true, looking often; fails with what was waited for. */
export async function until(isTrue: () => boolean, what: string, withinMs = 30_000): Promise<void> {
  const end = performance.now() + withinMs;
  while (!isTrue()) {
    if (performance.now() > end) throw new Error(`Not within ${withinMs} ms: ${what}`);
    await setTimeout(2);
  }
}
