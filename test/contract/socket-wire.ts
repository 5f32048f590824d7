import { WebSocket } from 'ws';
import type { Wire } from './client.ts';

/** The address and token out of `http://127.0.0.1:PORT/#t=TOKEN`. */
export function partsOf(url: string): { port: number; token: string } {
  const { port, hash } = new URL(url);
  return { port: Number(port), token: hash.replace('#t=', '') };
}

/** A connection to the local host as its own page opens it; rejects when it is turned away. */
export function socketWire({ port, token }: { port: number; token: string }): Promise<Wire> {
  const socket = new WebSocket(`ws://127.0.0.1:${port}/contract`, ['turnwright.1', `token.${token}`], {
    origin: `http://127.0.0.1:${port}`,
  });
  const early: string[] = [];
  let hear: (text: string) => void = (text) => early.push(text);
  socket.on('message', (data) => {
    hear((data as Buffer).toString('utf8'));
  });
  const wire: Wire = {
    send(text) {
      socket.send(text);
    },
    listen(listener) {
      hear = listener;
      for (const text of early) listener(text);
    },
    pause() {
      socket.pause();
    },
    resume() {
      socket.resume();
    },
    close() {
      return new Promise((resolve) => {
        if (socket.readyState === WebSocket.CLOSED) resolve();
        socket.once('close', () => {
          resolve();
        });
        socket.terminate();
      });
    },
  };
  return new Promise((resolve, reject) => {
    socket.once('open', () => {
      resolve(wire);
    });
    socket.once('error', reject);
  });
}
