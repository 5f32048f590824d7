import { EventEmitter } from 'node:events';
import type { BrowserWindow, BrowserWindowConstructorOptions, MenuItemConstructorOptions, Rectangle } from 'electron';
import type { Shell } from '../../../../src-main/host/desktop/shell.ts';
import { emitted, StandInSession } from './stand-in-session.ts';
import { StandInWindow } from './stand-in-window.ts';

type Handler = (event: object, message: unknown) => Promise<unknown>;

/** Main's end of the messages. */
class StandInIpc extends EventEmitter {
  readonly handlers = new Map<string, Handler>();

  handle(channel: string, handler: Handler) {
    this.handlers.set(channel, handler);
  }
}

/** The application object, with what was done to it. */
class StandInApp extends EventEmitter {
  readonly paths = new Map<string, string>();
  readonly exits: number[] = [];
  isOnly = true;
  isSandboxed = false;
  readonly #electron: StandInElectron;

  constructor(electron: StandInElectron) {
    super();
    this.#electron = electron;
  }

  setPath(name: string, path: string) {
    this.paths.set(name, path);
  }

  requestSingleInstanceLock() {
    return this.isOnly;
  }

  enableSandbox() {
    this.isSandboxed = true;
  }

  whenReady() {
    return Promise.resolve();
  }

  quit() {
    for (const window of [...this.#electron.windows]) window.close();
    if (this.#electron.windows.length === 0 && !emitted(this, 'will-quit', {})) this.exit(0);
  }

  exit(code: number) {
    this.exits.push(code);
  }
}

type Ask = (request: Request) => Response | Promise<Response>;

const screenOf = (id: number, workArea: Rectangle) => ({ id, workArea });

/**
 * Electron's modules, as far as the desktop host uses them, in one process and without a window. Permissive wherever
 * Electron is: what the host does not forbid, happens.
 */
export class StandInElectron {
  readonly windows: StandInWindow[] = [];
  readonly app = new StandInApp(this);
  readonly ipcMain = new StandInIpc();
  readonly session = { defaultSession: new StandInSession() };
  readonly schemes: { scheme: string; privileges?: object }[] = [];
  readonly questions: { message: string; detail: string; buttons: string[] }[] = [];
  readonly errorBoxes: [string, string][] = [];
  readonly opened: string[] = [];
  readonly awake = new Map<number, string>();
  menu: MenuItemConstructorOptions[] = [];
  /** How the person answers the next questions: the number of a button; the first one where nothing is said. */
  answers: number[] = [];
  saveTo: { canceled: boolean; filePath: string } = { canceled: true, filePath: '' };
  saveOffered: { defaultPath?: string } = {};
  screens = [screenOf(1, { x: 0, y: 0, width: 1920, height: 1040 })];
  #scheme: Ask | null = null;
  #blockers = 0;

  /** What the scheme's handler answers. */
  async ask(url: string, method = 'GET'): Promise<Response> {
    if (this.#scheme === null) throw new Error('ERR_UNKNOWN_URL_SCHEME');
    return this.#scheme({ url, method } as Request);
  }

  get shell(): Shell {
    const protocol = {
      registerSchemesAsPrivileged: (schemes: typeof this.schemes) => this.schemes.push(...schemes),
      handle: (_scheme: string, handler: Ask) => (this.#scheme = handler),
    };
    const dialog = {
      showMessageBox: (_window: unknown, question: (typeof this.questions)[number]) => {
        this.questions.push(question);
        return Promise.resolve({ response: this.answers.shift() ?? 0 });
      },
      showErrorBox: (title: string, sentence: string) => this.errorBoxes.push([title, sentence]),
      showSaveDialog: (...given: { defaultPath?: string }[]) => {
        this.saveOffered = given.at(-1) ?? {};
        return Promise.resolve(this.saveTo);
      },
    };
    const powerSaveBlocker = {
      start: (kind: string) => {
        this.awake.set((this.#blockers += 1), kind);
        return this.#blockers;
      },
      stop: (id: number) => this.awake.delete(id),
    };
    // eslint-disable-next-line @typescript-eslint/no-this-alias
    const electron = this;
    return {
      app: this.app,
      BrowserWindow: class extends StandInWindow {
        constructor(options: BrowserWindowConstructorOptions) {
          super(electron, options);
        }
      },
      dialog,
      ipcMain: this.ipcMain,
      Menu: {
        buildFromTemplate: (items: MenuItemConstructorOptions[]) => items,
        setApplicationMenu: (items: MenuItemConstructorOptions[]) => (this.menu = items),
      },
      powerSaveBlocker,
      protocol,
      screen: { getPrimaryDisplay: () => this.screens[0], getAllDisplays: () => this.screens },
      session: this.session,
      openPath: (path: string) => {
        this.opened.push(path);
        return Promise.resolve('');
      },
    } as unknown as Shell;
  }
}

/** The stand-in behind a window that the host opened. */
export const standInOf = (window: BrowserWindow) => window as unknown as StandInWindow;
