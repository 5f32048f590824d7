// Electron's module for a program that is run by plain Node: one window that draws nothing. Never ready when told so.
const { EventEmitter } = require('node:events');

const nothing = () => undefined;
// Electron goes on for as long as there is a window; Node, for as long as there is something to wait for.
if (process.env.NEVER_READY !== '1') setInterval(nothing, 1000);
const app = Object.assign(new EventEmitter(), {
  setPath: nothing,
  requestSingleInstanceLock: () => true,
  enableSandbox: nothing,
  whenReady: () =>
    process.env.NEVER_READY === '1' ? new Promise(nothing) : new Promise((ready) => setImmediate(ready)),
  quit: nothing,
  exit: (code) => process.exit(code),
});

class BrowserWindow extends EventEmitter {
  webContents = Object.assign(new EventEmitter(), { setWindowOpenHandler: nothing });

  async loadURL(url) {
    await exports.protocol.handler({ url, method: 'GET' });
    setImmediate(() => this.emit('ready-to-show'));
  }

  show() {}
}

exports.app = app;
exports.BrowserWindow = BrowserWindow;
exports.dialog = { showErrorBox: (...said) => console.error(...said) };
exports.ipcMain = Object.assign(new EventEmitter(), { handle: nothing });
exports.Menu = { buildFromTemplate: nothing, setApplicationMenu: nothing };
exports.powerSaveBlocker = { start: nothing, stop: nothing };
exports.protocol = {
  registerSchemesAsPrivileged: nothing,
  handle: (_scheme, handler) => (exports.protocol.handler = handler),
};
exports.screen = {
  getPrimaryDisplay: () => ({ id: 1, workArea: { x: 0, y: 0, width: 1920, height: 1040 } }),
  getAllDisplays: () => [],
};
exports.session = {
  defaultSession: Object.assign(new EventEmitter(), {
    setPermissionRequestHandler: nothing,
    setPermissionCheckHandler: nothing,
    setDevicePermissionHandler: nothing,
    setDisplayMediaRequestHandler: nothing,
  }),
};
exports.shell = { openPath: nothing };
