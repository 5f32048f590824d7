/** The parts of `process` that hear of errors nobody caught. */
export interface Failing {
  on(event: 'uncaughtException' | 'unhandledRejection', hear: (error: unknown) => void): unknown;
}

export interface OwnErrorsOptions {
  readonly log: (line: string) => void;
  readonly nowMs: () => number;
  /** Gives up everything held in memory and begins again from the record. Rejects when that cannot be done. */
  readonly beginAgain: () => Promise<void>;
  /** Ends the program, saying so: it cannot go on. */
  readonly giveUp: (sentence: string) => void;
}

const errorsAtMost = 3;
const withinMs = 60_000;

const written = (error: unknown) => (error instanceof Error ? (error.stack ?? error.message) : String(error));

/**
 * An error that nobody caught leaves the program in a state that nobody knows. So it goes to the log, stack and all,
 * and the program begins again from its record, the guard unproved. Too many within a minute end it.
 */
export function catchOwnErrors(target: Failing, { log, nowMs, beginAgain, giveUp }: OwnErrorsOptions): void {
  let errors: number[] = [];
  let isBusy = false;
  let isOver = false;

  function end(sentence: string) {
    if (isOver) return;
    isOver = true;
    log(sentence);
    giveUp(sentence);
  }
  function hear(error: unknown) {
    log(`An error that nobody caught: ${written(error)}`);
    const now = nowMs();
    errors = [...errors.filter((atMs) => now - atMs < withinMs), now];
    if (errors.length > errorsAtMost) {
      end(
        'The program met error after error of its own and ends. What was recorded is kept. Treat everything as live.',
      );
      return;
    }
    if (isBusy) return;
    isBusy = true;
    beginAgain().then(
      () => {
        isBusy = false;
        log('The program began again from its record; the guard is unproved.');
      },
      (cause: unknown) => {
        end(
          `The program met an error of its own and could not begin again (${written(cause)}). ` +
            'What was recorded is kept. Treat everything as live.',
        );
      },
    );
  }
  target.on('uncaughtException', hear);
  target.on('unhandledRejection', hear);
}
