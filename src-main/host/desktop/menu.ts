import type { MenuItemConstructorOptions } from 'electron';

/** What the items of our own do. */
export interface MenuActs {
  /** Declares power off without the page, which may have crashed or not answer. */
  readonly powerIsOff: () => void;
  readonly print: () => void;
  readonly savePdf: () => void;
  readonly openDataFolder: () => void;
}

/** The menu of the window: only what works here. `isMac` puts the program's own menu first, as people expect there. */
export function menuOf(acts: MenuActs, isMac: boolean): MenuItemConstructorOptions[] {
  const file: MenuItemConstructorOptions = {
    label: '&File',
    submenu: [
      { label: '&Print...', accelerator: 'CmdOrCtrl+P', click: acts.print },
      { label: 'Save page as P&DF...', click: acts.savePdf },
      { type: 'separator' },
      { label: 'Show &data folder', click: acts.openDataFolder },
      { type: 'separator' },
      isMac ? { role: 'close' } : { role: 'quit' },
    ],
  };
  const bench: MenuItemConstructorOptions = {
    label: '&Bench',
    // The page takes F8 first and keeps it; without a page it comes here.
    submenu: [{ label: 'Power is &off', accelerator: 'F8', click: acts.powerIsOff }],
  };
  const edit: MenuItemConstructorOptions = {
    label: '&Edit',
    submenu: [
      { role: 'undo' },
      { role: 'redo' },
      { type: 'separator' },
      { role: 'cut' },
      { role: 'copy' },
      { role: 'paste' },
      { role: 'selectAll' },
    ],
  };
  const view: MenuItemConstructorOptions = {
    label: '&View',
    submenu: [
      { role: 'reload' },
      { type: 'separator' },
      { role: 'zoomIn' },
      { role: 'zoomOut' },
      { role: 'resetZoom' },
      { type: 'separator' },
      { role: 'togglefullscreen' },
    ],
  };
  return [...(isMac ? [{ role: 'appMenu' } satisfies MenuItemConstructorOptions] : []), file, edit, bench, view];
}
