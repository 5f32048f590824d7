/** The parts of `process` that stopping needs. */
export interface Stoppable {
  on(signal: 'SIGINT' | 'SIGTERM' | 'SIGHUP', act: () => void): unknown;
  exit(code: number): void;
}

/** One press of Ctrl-C reaches the program from the terminal and again from the script that started it. */
const samePressMs = 400;

const longestStopMs = 4000;

/**
 * Stops cleanly at the first signal and exits with 0; with 1 when that takes longer than four seconds or fails, or at
 * once at a second signal.
 */
export function stopOnSignals(
  target: Stoppable,
  stop: () => Promise<void>,
  say: (line: string) => void,
  nowMs: () => number,
): void {
  let firstMs: number | null = null;
  function hear() {
    if (firstMs !== null) {
      if (nowMs() - firstMs > samePressMs) target.exit(1);
      return;
    }
    firstMs = nowMs();
    say('Stopping ...');
    setTimeout(() => {
      say('Stopping took too long.');
      target.exit(1);
    }, longestStopMs).unref();
    stop().then(
      () => {
        target.exit(0);
      },
      (error: unknown) => {
        say(`Stopping failed: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
        target.exit(1);
      },
    );
  }
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) target.on(signal, hear);
}
