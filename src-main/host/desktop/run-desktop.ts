import type { BrowserWindow, WebContents } from 'electron';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Outcome } from '../../../src-shared/contract/failure.ts';
import type { Deliver } from '../../export/delivery.ts';
import { readPageFiles, type PageFile } from '../page-files.ts';
import type { Carried } from '../run-local.ts';
import { startWords } from '../start-words.ts';
import { pageScheme, servePage } from './app-scheme.ts';
import { nothingStanding, watchBench } from './bench-watch.ts';
import { carryOverMessages } from './carrier.ts';
import { giveFile } from './give-file.ts';
import { denyAll, keepPagesInPlace } from './lock-down.ts';
import { openWindow, raise } from './open-window.ts';
import { catchOwnErrors, type Failing } from './own-errors.ts';
import { answerForPaper, paperOf } from './paper.ts';
import { Program } from './program.ts';
import { setMenu } from './set-menu.ts';
import type { Shell } from './shell.ts';
import { stayAwake } from './stay-awake.ts';

export interface DesktopOptions<C extends Carried> {
  readonly shell: Shell;
  /** The folder of the record. What the window itself keeps lies in `desktop` below it. */
  readonly folder: string;
  /** Wires the program on the folder; `deliver` is how this host gives files to the person. */
  readonly create: (deliver: Deliver) => Outcome<C>;
  /** The folder of the built page. */
  readonly pages: string;
  /** The built preload script. */
  readonly preload: string;
  readonly log: (line: string) => void;
  readonly checkReplies: boolean;
  readonly nowMs: () => number;
  readonly failing: Failing;
  /** How long the program behind the windows may take to end, in ms. */
  readonly longestEndMs?: number | undefined;
  readonly platform: string;
  /** One of the start words, for whoever started the program. */
  readonly tell: (line: string) => void;
}

export interface RunningDesktop {
  openWindow(): BrowserWindow;
  /** Gives up what is in memory and begins again from the record. */
  beginAgain(): Promise<void>;
  /** Ends the program behind the windows. */
  end(): Promise<void>;
}

/** Where the shell keeps what is its own: the place of the window, its log, Chromium's profile. */
export const shellFolder = (folder: string) => join(folder, 'desktop');

/**
 * The program in a desktop window. To be called before Electron is ready. Null when it was not to be: another copy on
 * the same record was brought to the front, or the program cannot be had, which the person is told.
 */
export async function runDesktop<C extends Carried>(options: DesktopOptions<C>): Promise<RunningDesktop | null> {
  const { shell, folder, log, nowMs, tell } = options;
  const { app } = shell;
  mkdirSync(shellFolder(folder), { recursive: true });
  app.setPath('userData', shellFolder(folder));
  if (!app.requestSingleInstanceLock()) {
    tell(startWords.raised);
    app.exit(0);
    return null;
  }
  app.enableSandbox();
  shell.protocol.registerSchemesAsPrivileged([pageScheme]);
  keepPagesInPlace(app);
  await app.whenReady();

  const refuse = (sentence: string) => {
    tell(`${startWords.refused}${sentence.replaceAll('\n', ' ')}`);
    log(sentence);
    shell.dialog.showErrorBox('Turnwright cannot start', sentence);
    app.exit(1);
    return null;
  };
  let files: ReadonlyMap<string, PageFile>;
  try {
    files = readPageFiles(options.pages);
  } catch (error) {
    return refuse(`The page of the program is missing: ${String(error)}.`);
  }

  const windows = new Map<WebContents, BrowserWindow>();
  const first = () => windows.values().next().value;
  let standing = nothingStanding;
  const keepAwake = stayAwake(shell.powerSaveBlocker);
  const program = new Program({
    create: () => options.create(giveFile(shell.dialog, first)),
    log,
    checkReplies: options.checkReplies,
    longestEndMs: options.longestEndMs,
    onBegun: (begun) =>
      watchBench(begun, (now) => {
        standing = now;
        keepAwake(now.isRecording);
      }),
  });
  const begun = program.begin();
  if (!begun.ok) return refuse(begun.failure.message);

  denyAll(shell.session.defaultSession);
  servePage(shell.protocol, files);
  const carrier = carryOverMessages({
    ipcMain: shell.ipcMain,
    isOurs: (contents) => windows.has(contents),
    accept: (connection) => program.accept(connection),
    log,
  });
  const paper = paperOf(shell.dialog);
  answerForPaper(shell.ipcMain, paper, (contents) => windows.get(contents) ?? null);

  const running: RunningDesktop = {
    openWindow() {
      const window = openWindow({
        shell,
        preload: options.preload,
        placeFile: join(shellFolder(folder), 'window.json'),
        standing: () => standing,
        log,
        nowMs,
        onShown: () => {
          tell(startWords.shown);
        },
      });
      const page = window.webContents;
      windows.set(page, window);
      window.once('closed', () => windows.delete(page));
      return window;
    },
    async beginAgain() {
      carrier.endAll();
      await program.beginAgain();
    },
    end: () => program.end(),
  };

  catchOwnErrors(options.failing, {
    log,
    nowMs,
    beginAgain: () => running.beginAgain(),
    giveUp: (sentence) => {
      shell.dialog.showErrorBox('Turnwright ends', sentence);
      app.exit(1);
    },
  });
  app.on('second-instance', () => {
    const window = first();
    if (window !== undefined) raise(window);
  });
  app.on('window-all-closed', () => {
    app.quit();
  });
  app.on('will-quit', (event) => {
    event.preventDefault();
    running.end().then(
      () => {
        app.exit(0);
      },
      (error: unknown) => {
        // Without a window nobody could end it, and it would keep the record from the next start.
        log(`The program ends without having come to its end: ${String(error)}`);
        app.exit(1);
      },
    );
  });
  setMenu({ shell, platform: options.platform, folder, paper, window: first, services: () => program.services });
  return running;
}
