import type { PowerSaveBlocker } from 'electron';

/** Keeps computer and screen awake while told to: readings are read from across the bench. Returns what tells it. */
export function stayAwake(blocker: Pick<PowerSaveBlocker, 'start' | 'stop'>): (awake: boolean) => void {
  let held: number | null = null;
  return (awake) => {
    if (awake && held === null) held = blocker.start('prevent-display-sleep');
    if (!awake && held !== null) {
      blocker.stop(held);
      held = null;
    }
  };
}
