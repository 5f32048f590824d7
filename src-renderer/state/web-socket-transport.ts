import { parseMessage } from './parse-message.ts';
import type { Link, Transport } from './transport.ts';

/**
 * The contract over a WebSocket, one message a frame.
 * @param address - where the program listens
 * @param protocols - the subprotocol, and what proves that this page may ask
 */
export const webSocketTransport =
  (address: string, protocols: string[]): Transport =>
  (listener): Link => {
    const socket = new WebSocket(address, protocols);
    socket.addEventListener('open', () => listener.opened());
    socket.addEventListener('message', (event) => listener.heard(parseMessage(event.data)));
    socket.addEventListener('close', () => listener.closed());
    return {
      send(message) {
        if (socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message));
      },
      close: () => socket.close(),
    };
  };
