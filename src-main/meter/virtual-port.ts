import type { MeterPort } from './meter-port.ts';

/** The meter's side of a port inside the program. */
export interface VirtualMeter {
  /** The port was opened: from now on `deliver` reaches it. A rejection is a port that does not open. */
  opened(deliver: (bytes: Uint8Array) => void, lose: () => void): Promise<void> | void;
  closed(): void;
  /** What the program sent. */
  heard?(text: string): void;
}

/** A port whose other end is inside the program: for recordings and the practice bench. Bytes go the same way as all. */
export function virtualPort(meter: VirtualMeter): MeterPort {
  let state: 'new' | 'open' | 'over' = 'new';
  let onData: ((bytes: Uint8Array) => void) | null = null;
  let onLost: (() => void) | null = null;
  const end = () => {
    if (state !== 'open') return false;
    state = 'over';
    meter.closed();
    return true;
  };
  return {
    get isOpen() {
      return state === 'open';
    },
    open: async () => {
      if (state !== 'new') throw new Error('A port is opened once.');
      state = 'open';
      try {
        await meter.opened(
          (bytes) => {
            if (state === 'open') onData?.(bytes);
          },
          () => {
            if (end()) onLost?.();
          },
        );
      } catch (thrown) {
        state = 'over';
        throw thrown;
      }
    },
    close: () => {
      end();
      return Promise.resolve();
    },
    write: (text) => {
      if (state !== 'open') return Promise.reject(new Error('The port is not open.'));
      meter.heard?.(text);
      return Promise.resolve();
    },
    flush: () => Promise.resolve(),
    setLines: () => Promise.resolve(),
    onData: (act) => {
      onData = act;
    },
    onLost: (act) => {
      onLost = act;
    },
  };
}
