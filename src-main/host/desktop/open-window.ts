import type { BrowserWindow, Rectangle } from 'electron';
import { pageAddress } from './app-scheme.ts';
import type { BenchStanding } from './bench-watch.ts';
import { keepPlace, readPlace } from './kept-place.ts';
import { askBeforeLeaving } from './leave-question.ts';
import { recoverPage } from './page-recovery.ts';
import type { Shell } from './shell.ts';
import { windowOptions } from './window-options.ts';
import { placeFor } from './window-place.ts';

export interface OpenWindowParts {
  readonly shell: Pick<Shell, 'BrowserWindow' | 'dialog' | 'screen'>;
  readonly preload: string;
  /** Where the place of the window is kept. */
  readonly placeFile: string;
  readonly standing: () => BenchStanding;
  readonly log: (line: string) => void;
  readonly nowMs: () => number;
  /** The page is drawn, and the window on the screen. */
  readonly onShown: () => void;
}

function areasOf(screen: Shell['screen']): readonly [Rectangle, ...Rectangle[]] {
  const main = screen.getPrimaryDisplay();
  const others = screen.getAllDisplays().filter(({ id }) => id !== main.id);
  return [main.workArea, ...others.map(({ workArea }) => workArea)];
}

/** Opens a window with our page in it, where the last one was. */
export function openWindow(parts: OpenWindowParts): BrowserWindow {
  const { shell, placeFile, log } = parts;
  const kept = readPlace(placeFile);
  const window = new shell.BrowserWindow(windowOptions(placeFor(kept, areasOf(shell.screen)), parts.preload));
  const page = window.webContents;
  if (kept?.maximised === true) window.maximize();
  window.on('close', () => {
    keepPlace(placeFile, { ...window.getNormalBounds(), maximised: window.isMaximized() }, log);
  });
  askBeforeLeaving(window, shell.dialog, parts.standing);
  recoverPage(window, { dialog: shell.dialog, log, nowMs: parts.nowMs });
  window.once('ready-to-show', () => {
    window.show();
    parts.onShown();
  });
  window.loadURL(pageAddress).catch((error: unknown) => {
    log(`The page could not be loaded: ${String(error)}`);
    // Crashed while it was loading, it is being loaded again.
    if (window.isDestroyed() || page.isLoading()) return;
    shell.dialog.showErrorBox('Turnwright', 'The page of the program could not be loaded. Start it again.');
    window.destroy();
  });
  return window;
}

/** Brings a window before the person, whatever was done with it. */
export function raise(window: BrowserWindow): void {
  if (window.isMinimized()) window.restore();
  window.show();
  window.focus();
}
