import { createServer, STATUS_CODES, type Server } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocket, WebSocketServer } from 'ws';
import { done, failed, type Outcome } from '../../src-shared/contract/failure.ts';
import type { ContractServer } from './contract-server.ts';
import type { Downloads } from './downloads.ts';
import { freshToken, judgeUpgrade, protocolName } from './door.ts';
import { readPageFiles } from './page-files.ts';
import { createPageServer } from './page-server.ts';

export interface LocalHostOptions {
  /** Carries the contract; ends with the host. */
  readonly contract: ContractServer;
  /** Files on their way to the browser; what still waits is removed with the host. */
  readonly downloads: Downloads;
  /** The folder of the built page. */
  readonly pages: string;
  /** 0 takes any free port. */
  readonly port: number;
  /** Another will do where that one is taken. */
  readonly orAnother?: boolean;
}

export interface LocalHost {
  readonly port: number;
  readonly token: string;
  /** Where the page is, with the token behind the hash, which no browser sends anywhere. */
  readonly url: string;
  /** Ends every connection and listens no more; done within about half a second. */
  close(): Promise<void>;
}

const longestMessageBytes = 1_048_576;
const connectionsAtMost = 64;
const visitsAtMost = 16;
const lingerMs = 500;

/** Answers an upgrade with a refusal and lets the socket go, whatever its other end does. */
function turnAway(socket: Duplex, status: number, why: string) {
  const body = `${why}\n`;
  const head = [
    `HTTP/1.1 ${status} ${STATUS_CODES[status] ?? ''}`,
    'Connection: close',
    'Content-Type: text/plain; charset=utf-8',
    `Content-Length: ${Buffer.byteLength(body)}`,
    ...(status === 401 ? ['WWW-Authenticate: Turnwright'] : []),
  ];
  socket.on('error', () => socket.destroy());
  socket.resume();
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
  setTimeout(() => socket.destroy(), lingerMs).unref();
}

/** Joins one WebSocket to the contract. Only text is spoken; whoever sends anything else is cut off. */
function carry(socket: WebSocket, contract: ContractServer) {
  const visit = contract.accept({
    send(text) {
      if (socket.readyState === WebSocket.OPEN) socket.send(text);
    },
    close(reason) {
      socket.close(1013, reason);
      setTimeout(() => {
        socket.terminate();
      }, lingerMs).unref();
    },
    get bufferedAmount() {
      return socket.bufferedAmount;
    },
  });
  socket.on('message', (data, isBinary) => {
    if (isBinary || !Buffer.isBuffer(data)) socket.close(1003, 'Text only.');
    else visit.message(data.toString('utf8'));
  });
  // The library has closed the connection with the fitting code by then; `close` follows.
  socket.on('error', () => undefined);
  socket.on('close', () => {
    visit.closed();
  });
}

function listen(server: Server, port: number): Promise<Outcome<number>> {
  return new Promise((resolve) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const why = error.code === 'EADDRINUSE' ? 'another program uses it' : error.message;
      resolve(failed('port-taken', `Turnwright cannot listen on port ${port}: ${why}. Choose another with --port.`));
    });
    server.listen({ host: '127.0.0.1', port, exclusive: true }, () => {
      const address = server.address();
      if (address === null || typeof address === 'string') throw new Error('A listening server has an address.');
      resolve(done(address.port));
    });
  });
}

/**
 * Serves the page and the contract on 127.0.0.1 and nowhere else. The page's files are open to whoever asks on this
 * computer; the contract only to our own page with this start's token.
 * Fails with `port-taken`, or `not-found` when there is no built page.
 */
export async function startLocalHost({
  contract,
  downloads,
  pages,
  port,
  orAnother = false,
}: LocalHostOptions): Promise<Outcome<LocalHost>> {
  let files;
  try {
    files = readPageFiles(pages);
  } catch (error) {
    return failed('not-found', `The page of the program is missing from ${pages}: ${String(error)}. Build it again.`);
  }
  const token = freshToken();
  let openPort = 0;
  const server = createServer(
    {
      headersTimeout: 5000,
      requestTimeout: 10_000,
      keepAliveTimeout: 5000,
      connectionsCheckingInterval: 1000,
      maxHeaderSize: 16_384,
    },
    createPageServer(files, downloads, () => openPort),
  );
  server.maxConnections = connectionsAtMost;
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: longestMessageBytes,
    perMessageDeflate: false,
    handleProtocols: () => protocolName,
  });
  server.on('upgrade', (request, socket, head) => {
    const verdict = judgeUpgrade(request, { port: openPort, token });
    if (!verdict.admitted) {
      turnAway(socket, verdict.status, verdict.why);
    } else if (sockets.clients.size >= visitsAtMost) {
      turnAway(socket, 503, 'Too many pages are open.');
    } else {
      sockets.handleUpgrade(request, socket, head, (accepted) => {
        carry(accepted, contract);
      });
    }
  });

  const wished = await listen(server, port);
  const listening = !wished.ok && orAnother ? await listen(server, 0) : wished;
  if (!listening.ok) return listening;
  openPort = listening.value;
  return done({
    port: openPort,
    token,
    url: `http://127.0.0.1:${openPort}/#t=${token}`,
    close() {
      contract.close();
      downloads.close();
      for (const socket of sockets.clients) socket.close(1001, 'Turnwright is stopping.');
      return new Promise<void>((resolve) => {
        const linger = setTimeout(() => {
          for (const socket of sockets.clients) socket.terminate();
          server.closeAllConnections();
        }, lingerMs);
        server.close(() => {
          clearTimeout(linger);
          resolve();
        });
      });
    },
  });
}
