import type { ShellBridge } from '../../src-shared/contract/shell-channels.ts';
import { parseMessage } from './parse-message.ts';
import type { Link, Transport } from './transport.ts';

declare global {
  interface Window {
    /** There in the desktop window only. */
    readonly turnwright?: ShellBridge;
  }
}

/** The contract over the bridge of the desktop window. */
export const shellTransport =
  (bridge: Pick<ShellBridge, 'open' | 'send' | 'close'>): Transport =>
  (listener): Link => {
    let isOpen = true;
    const link = bridge.open(
      (text) => listener.heard(parseMessage(text)),
      () => {
        isOpen = false;
        listener.closed();
      },
    );
    // As with a socket, the opening is told after the link is handed back.
    queueMicrotask(() => {
      if (isOpen) listener.opened();
    });
    return {
      send(message) {
        if (isOpen) bridge.send(link, JSON.stringify(message));
      },
      close: () => bridge.close(link),
    };
  };
