import type { BrowserWindow, Dialog } from 'electron';
import type { BenchStanding } from './bench-watch.ts';

/** What is asked before the window closes; null when nothing speaks against it. */
function leaveQuestion({ isPowered, isRecording }: BenchStanding): { message: string; detail: string } | null {
  if (isPowered) {
    return {
      message: 'Power is declared on.',
      detail:
        'Closing ends the recording and watches no limit any more. It switches nothing off. ' +
        'Switch off at the plug first, say so with F8, then close.',
    };
  }
  if (isRecording) {
    return {
      message: 'A run is being recorded.',
      detail: 'Closing ends its recording. What was recorded is kept.',
    };
  }
  return null;
}

/** Asks before the window closes while power counts as on or a run records. To stay is the answer of Return and Escape. */
export function askBeforeLeaving(
  window: BrowserWindow,
  dialog: Pick<Dialog, 'showMessageBox'>,
  standing: () => BenchStanding,
): void {
  let asking = false;
  window.on('close', (event) => {
    const question = leaveQuestion(standing());
    if (question === null) return;
    event.preventDefault();
    if (asking) return;
    asking = true;
    void dialog
      .showMessageBox(window, {
        type: 'warning',
        ...question,
        buttons: ['Stay', 'Close all the same'],
        defaultId: 0,
        cancelId: 0,
        noLink: true,
      })
      .then(({ response }) => {
        asking = false;
        // Without asking the page, which might not answer.
        if (response === 1) window.destroy();
      });
  });
}
