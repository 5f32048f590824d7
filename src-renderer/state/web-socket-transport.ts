import type { Link, Transport } from './transport.ts';

function parse(text: unknown): unknown {
  if (typeof text !== 'string') return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

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
    socket.addEventListener('message', (event) => listener.heard(parse(event.data)));
    socket.addEventListener('close', () => listener.closed());
    return {
      send(message) {
        if (socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message));
      },
      close: () => socket.close(),
    };
  };
