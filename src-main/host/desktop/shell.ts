import type * as electron from 'electron';

/** The parts of Electron that this host uses. Passed in, so that a stand-in can take their place. */
export type Shell = Pick<
  typeof electron,
  'app' | 'BrowserWindow' | 'dialog' | 'ipcMain' | 'Menu' | 'powerSaveBlocker' | 'protocol' | 'screen' | 'session'
> & { readonly openPath: typeof electron.shell.openPath };
