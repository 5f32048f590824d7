import { EventEmitter } from 'node:events';

/** An event that can be prevented, and whether it was. */
export function emitted(on: EventEmitter, name: string, details: object, ...more: unknown[]): boolean {
  let isPrevented = false;
  on.emit(name, { ...details, preventDefault: () => (isPrevented = true) }, ...more);
  return isPrevented;
}

type Request = (page: unknown, permission: string, answer: (granted: boolean) => void) => void;
type Check = (page: unknown, permission: string) => boolean;
type Device = (details: object) => boolean;
type Display = (request: object, answer: (streams: object | null) => void) => void;

/** One session. Whatever has no handler is granted, as in Electron. */
export class StandInSession extends EventEmitter {
  #request: Request | null = null;
  #check: Check | null = null;
  #device: Device | null = null;
  #display: Display | null = null;

  setPermissionRequestHandler(handler: Request) {
    this.#request = handler;
  }

  setPermissionCheckHandler(handler: Check) {
    this.#check = handler;
  }

  setDevicePermissionHandler(handler: Device) {
    this.#device = handler;
  }

  setDisplayMediaRequestHandler(handler: Display) {
    this.#display = handler;
  }

  grantsRequest(permission: string) {
    let granted = true;
    this.#request?.(null, permission, (answer) => (granted = answer));
    return granted;
  }

  grantsCheck(permission: string) {
    return this.#check?.(null, permission) ?? true;
  }

  grantsDevice(deviceType: string) {
    return this.#device?.({ deviceType }) ?? true;
  }

  grantsDisplay() {
    let streams: object | null = { video: {} };
    this.#display?.({}, (given) => (streams = given));
    return streams !== null;
  }

  downloads() {
    return !emitted(this, 'will-download', {}, {}, {});
  }
}
