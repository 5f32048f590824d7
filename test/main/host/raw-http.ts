import { connect } from 'node:net';

/** Everything that the other end sends after `text`, until it closes or `waitMs` have passed. */
export function exchange(
  port: number,
  text: string | Buffer,
  waitMs = 5000,
): Promise<{ text: string; ended: boolean }> {
  return new Promise((resolve) => {
    const parts: Buffer[] = [];
    const socket = connect({ host: '127.0.0.1', port }, () => socket.write(text));
    const finish = (ended: boolean) => {
      clearTimeout(timer);
      socket.destroy();
      resolve({ text: Buffer.concat(parts).toString('latin1'), ended });
    };
    const timer = setTimeout(() => {
      finish(false);
    }, waitMs);
    socket.on('data', (part) => parts.push(part));
    socket.on('end', () => {
      finish(true);
    });
    socket.on('error', () => {
      finish(true);
    });
  });
}

/** The text of a request: a line, headers, an empty line. */
export const request = (line: string, headers: Readonly<Record<string, string>>, body = '') =>
  `${line}\r\n${Object.entries(headers)
    .map(([name, value]) => `${name}: ${value}\r\n`)
    .join('')}\r\n${body}`;

/** The status of each answer in what came back. */
export const statuses = (text: string) =>
  [...text.matchAll(/HTTP\/1\.1 (\d{3}) /g)].map(([, status]) => Number(status));
