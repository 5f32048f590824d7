import {
  app,
  BrowserWindow,
  dialog,
  ipcMain,
  Menu,
  powerSaveBlocker,
  protocol,
  screen,
  session,
  shell,
} from 'electron';
import { writeSync } from 'node:fs';
import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import { version } from '../../../package.json';
import { createApp } from '../../app.ts';
import { folderIn, usualDataFolder } from '../data-folder.ts';
import { runtimeWarning } from '../runtime-warning.ts';
import { startWords } from '../start-words.ts';
import { stopOnSignals } from '../stop-signals.ts';
import { logTo } from './log-file.ts';
import { runDesktop, shellFolder } from './run-desktop.ts';

// Whoever started the program may be gone, and the pipe to them with it: that is no error of the program.
process.stderr.on('error', () => undefined);

/** Says a line to whoever started the program, whole even when the program ends right after. */
function tell(line: string) {
  try {
    writeSync(1, `${line}\n`);
  } catch {
    // Nobody listens.
  }
}

/** Something that was not foreseen stood in the way of the start: without a window, nobody would see it. */
function cannotStart(error: unknown) {
  tell(`${startWords.refused}${String(error)}`);
  log(error instanceof Error ? (error.stack ?? error.message) : String(error));
  dialog.showErrorBox('Turnwright cannot start', String(error));
  app.exit(1);
}

const folder = resolve(folderIn(process.argv) ?? usualDataFolder(process.platform, process.env, homedir()));
const toFile = logTo(join(shellFolder(folder), 'turnwright.log'), () => Date.now());
const log = (line: string) => {
  process.stderr.write(`${line}\n`);
  toFile(line);
};
const nowMs = () => performance.now();
const warning = runtimeWarning(process.versions);

const starting = runDesktop({
  shell: {
    app,
    BrowserWindow,
    dialog,
    ipcMain,
    Menu,
    powerSaveBlocker,
    protocol,
    screen,
    session,
    openPath: (path) => shell.openPath(path),
  },
  folder,
  create: (deliver) =>
    createApp({ folder, version, warning, deliver, log, acceptLog: process.env['TURNWRIGHT_ACCEPT_LOG'] }),
  pages: join(import.meta.dirname, '..', 'renderer'),
  preload: join(import.meta.dirname, '..', 'preload', 'preload.cjs'),
  log,
  checkReplies: process.env['TURNWRIGHT_CHECK_REPLIES'] === '1',
  nowMs,
  failing: process,
  platform: process.platform,
  tell,
});

// Electron is ready only after this file has come to its end: waiting for it here would be for ever.
void starting.then((running) => {
  if (running === null) return;
  if (warning !== null) log(warning);
  const exit = (code: number) => {
    app.exit(code);
  };
  stopOnSignals({ on: (signal, act) => process.on(signal, act), exit }, () => running.end(), log, nowMs);
  running.openWindow();
}, cannotStart);
