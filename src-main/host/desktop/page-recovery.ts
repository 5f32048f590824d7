import type { BrowserWindow, Dialog } from 'electron';

/** More crashes than this within the time are not answered by loading again, but by a question. */
const crashesAtMost = 3;
const withinMs = 60_000;

export interface RecoveryParts {
  readonly dialog: Pick<Dialog, 'showMessageBox'>;
  readonly log: (line: string) => void;
  readonly nowMs: () => number;
}

/**
 * Loads the page again when it crashed: the program behind it has gone on, and the page asks it how the guard stands.
 * A page that crashes again and again, or does not answer, is asked about.
 */
export function recoverPage(window: BrowserWindow, { dialog, log, nowMs }: RecoveryParts): void {
  const page = window.webContents;
  let crashes: number[] = [];
  let asking = false;

  async function ask(message: string, act: () => void) {
    if (asking || window.isDestroyed()) return;
    asking = true;
    const { response } = await dialog.showMessageBox(window, {
      type: 'warning',
      message,
      detail: 'The program behind it goes on: recording and limits are not touched. Nothing is switched off.',
      buttons: ['Load the page again', 'Wait'],
      defaultId: 0,
      cancelId: 1,
      noLink: true,
    });
    asking = false;
    if (response === 0 && !window.isDestroyed()) act();
  }
  const load = () => {
    page.reload();
  };

  page.on('render-process-gone', (_event, { reason, exitCode }) => {
    if (reason === 'clean-exit' || window.isDestroyed()) return;
    log(`The page ended by itself (${reason}, ${exitCode}).`);
    const now = nowMs();
    crashes = [...crashes.filter((atMs) => now - atMs < withinMs), now];
    if (crashes.length <= crashesAtMost) load();
    else void ask('The page crashes again and again.', load);
  });
  window.on('unresponsive', () => {
    log('The page does not answer.');
    // Ended hard, it counts as crashed, and is loaded again by that.
    void ask('The page does not answer.', () => {
      page.forcefullyCrashRenderer();
    });
  });
}
