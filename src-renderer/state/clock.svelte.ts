import { onMount } from 'svelte';

/** A reactive tick for countdowns: counts every quarter of a second while its component is mounted. */
export class Clock {
  ticks = $state(0);

  constructor() {
    onMount(() => {
      const timer = setInterval(() => this.ticks++, 250);
      return () => clearInterval(timer);
    });
  }

  /** The given clock read now, and again at every tick. */
  read(nowMs: () => number): number {
    void this.ticks;
    return nowMs();
  }
}
