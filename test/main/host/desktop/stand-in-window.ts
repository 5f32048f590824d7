import { EventEmitter } from 'node:events';
import type { BrowserWindowConstructorOptions, Rectangle } from 'electron';
import type { StandInElectron } from './stand-in-electron.ts';
import { StandInPage, type ToMain } from './stand-in-page.ts';
import { emitted } from './stand-in-session.ts';

interface Frame {
  origin: string;
  url: string;
}

/** What a page's process shows of itself to main. */
export class StandInContents extends EventEmitter {
  readonly mainFrame: Frame = { origin: 'null', url: '' };
  page: StandInPage | null = null;
  reloads = 0;
  isReloading = false;
  printed: 'printed' | 'Print job canceled' | 'Print job failed' = 'printed';
  pdf: Buffer | Error = Buffer.from('%PDF-');
  readonly #electron: StandInElectron;
  readonly #preload: string;
  #isDestroyed = false;
  #openHandler: ((details: object) => { action: string }) | null = null;

  constructor(electron: StandInElectron, preload: string) {
    super();
    this.#electron = electron;
    this.#preload = preload;
  }

  isDestroyed() {
    return this.#isDestroyed;
  }

  isLoading() {
    return this.isReloading;
  }

  destroy() {
    this.page?.leave();
    this.#isDestroyed = true;
    this.emit('destroyed');
  }

  send(channel: string, message: unknown) {
    if (this.#isDestroyed) throw new Error('Object has been destroyed');
    this.page?.take(channel, message);
  }

  setWindowOpenHandler(handler: (details: object) => { action: string }) {
    this.#openHandler = handler;
  }

  /** The page opens another window. True when one would come. */
  opensWindow(url: string) {
    return this.#openHandler?.({ url }).action !== 'deny';
  }

  /** The page, or a frame in it, goes somewhere by itself. True when it would arrive. */
  navigates(url: string, isMainFrame = true) {
    this.emit('did-start-navigation', { url, isMainFrame, isSameDocument: false });
    return (
      !emitted(this, 'will-frame-navigate', { url, isMainFrame }) &&
      (!isMainFrame || !emitted(this, 'will-navigate', { url }))
    );
  }

  redirects(url: string) {
    return !emitted(this, 'will-redirect', { url });
  }

  attachesWebview() {
    return !emitted(this, 'will-attach-webview', {}, {}, {});
  }

  /** Loads an address as main tells it to: whatever the scheme's handler answers. */
  async load(url: string) {
    this.emit('did-start-navigation', { url, isMainFrame: true, isSameDocument: false });
    this.page?.leave();
    const response = await this.#electron.ask(url);
    if (response.status !== 200) throw new Error(`ERR_FAILED (${response.status}) loading '${url}'`);
    const { protocol, host } = new URL(url);
    Object.assign(this.mainFrame, { origin: `${protocol}//${host}`, url });
    this.page = new StandInPage(this.#preload, this.mainFor(this.mainFrame));
  }

  /** The way to main for a frame of this page. */
  mainFor(frame: object | null): ToMain {
    const event = { sender: this, senderFrame: frame };
    return {
      send: (channel, message) => {
        const copy = structuredClone(message);
        setImmediate(() => this.#electron.ipcMain.emit(channel, event, copy));
      },
      // Of an error only its text crosses, inside a sentence of Electron's own.
      invoke: async (channel, message) => {
        const handler = this.#electron.ipcMain.handlers.get(channel);
        if (handler === undefined) throw new Error(`No handler registered for '${channel}'`);
        try {
          return structuredClone(await handler(event, structuredClone(message)));
        } catch (error) {
          throw new Error(`Error invoking remote method '${channel}': ${String(error)}`);
        }
      },
    };
  }

  reload() {
    this.reloads += 1;
    void this.load(this.mainFrame.url);
  }

  /** The page's process ends by itself. */
  crash(reason = 'crashed') {
    this.page?.leave();
    this.emit('render-process-gone', {}, { reason, exitCode: 5 });
  }

  forcefullyCrashRenderer() {
    this.crash('killed');
  }

  print(_options: object, told: (success: boolean, reason: string) => void) {
    told(this.printed === 'printed', this.printed === 'printed' ? '' : this.printed);
  }

  printToPDF() {
    return this.pdf instanceof Error ? Promise.reject(this.pdf) : Promise.resolve(this.pdf);
  }
}

export class StandInWindow extends EventEmitter {
  readonly webContents: StandInContents;
  readonly options: BrowserWindowConstructorOptions;
  bounds: Rectangle;
  isShown = false;
  isFocused = false;
  isMin = false;
  isMax = false;
  readonly #electron: StandInElectron;
  #isDestroyed = false;

  constructor(electron: StandInElectron, options: BrowserWindowConstructorOptions) {
    super();
    this.#electron = electron;
    this.options = options;
    const { x = 0, y = 0, width = 800, height = 600 } = options;
    this.bounds = { x, y, width, height };
    this.webContents = new StandInContents(electron, options.webPreferences?.preload ?? '');
    electron.windows.push(this);
    electron.app.emit('web-contents-created', {}, this.webContents);
  }

  async loadURL(url: string) {
    await this.webContents.load(url);
    this.emit('ready-to-show');
  }

  isDestroyed() {
    return this.#isDestroyed;
  }

  /** As the person closes it. */
  close() {
    if (!emitted(this, 'close', {})) this.destroy();
  }

  destroy() {
    if (this.#isDestroyed) return;
    this.#isDestroyed = true;
    this.webContents.destroy();
    this.#electron.windows.splice(this.#electron.windows.indexOf(this), 1);
    this.emit('closed');
    if (this.#electron.windows.length === 0) this.#electron.app.emit('window-all-closed');
  }

  show() {
    this.isShown = true;
  }

  focus() {
    this.isFocused = true;
  }

  isMinimized() {
    return this.isMin;
  }

  restore() {
    this.isMin = false;
  }

  maximize() {
    this.isMax = true;
  }

  isMaximized() {
    return this.isMax;
  }

  getNormalBounds() {
    return this.bounds;
  }

  getTitle() {
    return 'Turnwright';
  }
}
