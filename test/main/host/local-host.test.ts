import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { networkInterfaces, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import { createDownloads } from '../../../src-main/host/downloads.ts';
import { freshToken } from '../../../src-main/host/door.ts';
import { startLocalHost, type LocalHost } from '../../../src-main/host/local-host.ts';
import { hello, smallServer } from './fakes.ts';
import { exchange, request, statuses } from './raw-http.ts';

const folder = mkdtempSync(join(tmpdir(), 'turnwright-host-'));
const pages = join(folder, 'pages');
const secret = 'SECRET-OUTSIDE';
const noDownloads = () => createDownloads(() => () => undefined);
let host: LocalHost;

function makePages() {
  mkdirSync(join(pages, 'assets'), { recursive: true });
  writeFileSync(join(folder, 'secret.txt'), secret);
  writeFileSync(join(pages, 'index.html'), '<!doctype html><title>Turnwright</title>');
  writeFileSync(join(pages, 'favicon.svg'), '<svg/>');
  writeFileSync(join(pages, 'assets', 'index-Ab3_d-9Z.js'), 'export {};');
  writeFileSync(join(pages, 'assets', 'style-Ab3_d-9Z.css'), 'a{}');
  symlinkSync(join(folder, 'secret.txt'), join(pages, 'linked.txt'));
  symlinkSync(folder, join(pages, 'up'));
}

const started = async (port = 0) => {
  const outcome = await startLocalHost({ contract: smallServer().server, downloads: noDownloads(), pages, port });
  if (!outcome.ok) throw new Error(outcome.failure.message);
  return outcome.value;
};

beforeAll(async () => {
  makePages();
  host = await started();
});

afterAll(async () => {
  await host.close();
  rmSync(folder, { recursive: true });
});

const ownHost = () => `127.0.0.1:${host.port}`;
const get = (path: string, headers: Readonly<Record<string, string>> = {}, line = `GET ${path} HTTP/1.1`) =>
  exchange(host.port, request(line, { Host: ownHost(), Connection: 'close', ...headers }));

/** A handshake like our page's, but for the given headers; an empty value leaves one out. */
function handshake(changes: Readonly<Record<string, string>> = {}, path = '/contract') {
  const all: Record<string, string> = {
    Host: ownHost(),
    Origin: `http://${ownHost()}`,
    Upgrade: 'websocket',
    Connection: 'Upgrade',
    'Sec-WebSocket-Version': '13',
    'Sec-WebSocket-Key': 'dGhlIHNhbXBsZSBub25jZQ==',
    'Sec-WebSocket-Protocol': `turnwright.1, token.${host.token}`,
    ...changes,
  };
  const headers = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== ''));
  return request(`GET ${path} HTTP/1.1`, headers);
}

const open = (at = host) =>
  new Promise<WebSocket>((resolve, reject) => {
    const socket = new WebSocket(`ws://127.0.0.1:${at.port}/contract`, ['turnwright.1', `token.${at.token}`], {
      origin: `http://127.0.0.1:${at.port}`,
    });
    socket.once('open', () => {
      resolve(socket);
    });
    socket.once('error', reject);
  });

const closing = (socket: WebSocket) => new Promise<number>((resolve) => socket.once('close', resolve));
const next = (socket: WebSocket) =>
  new Promise<unknown>((resolve) =>
    socket.once('message', (data) => {
      resolve(JSON.parse((data as Buffer).toString()));
    }),
  );

describe('the page', () => {
  it('is served to whoever asks at the right address, and tells nobody the token', async () => {
    const { text } = await get('/');
    expect(statuses(text)).toEqual([200]);
    expect(text).toContain('<title>Turnwright</title>');
    expect(text).not.toContain(host.token);
    expect(host.url).toBe(`http://127.0.0.1:${host.port}/#t=${host.token}`);
  });

  it('comes with headers that let nothing inline, nothing foreign and no frame in', async () => {
    for (const path of ['/', '/assets/index-Ab3_d-9Z.js', '/nothing']) {
      const { text } = await get(path);
      const [head = ''] = text.split('\r\n\r\n');
      expect(head).toContain(
        `Content-Security-Policy: default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; ` +
          `font-src 'self'; connect-src 'self' ws://${ownHost()}; frame-ancestors 'none'; base-uri 'none'; ` +
          `form-action 'none'\r\n`,
      );
      expect(head).toContain('X-Content-Type-Options: nosniff');
      expect(head).toContain('Referrer-Policy: no-referrer');
      expect(head).toContain('Cross-Origin-Opener-Policy: same-origin');
      expect(head).toContain('Cross-Origin-Resource-Policy: same-origin');
      expect(head).not.toMatch(/unsafe|Access-Control|X-Powered-By|Server:/i);
    }
  });

  it('lets hashed files be kept and everything else not', async () => {
    expect((await get('/')).text).toContain('Cache-Control: no-store');
    expect((await get('/favicon.svg')).text).toMatch(/Cache-Control: no-store[\s\S]*<svg\/>/);
    expect((await get('/assets/index-Ab3_d-9Z.js')).text).toContain('max-age=31536000, immutable');
  });

  it('names each type', async () => {
    expect((await get('/')).text).toContain('Content-Type: text/html; charset=utf-8');
    expect((await get('/assets/style-Ab3_d-9Z.css')).text).toContain('Content-Type: text/css; charset=utf-8');
  });

  it('answers HEAD like GET, without the body', async () => {
    const { text } = await get('/', {}, 'HEAD / HTTP/1.1');
    expect(statuses(text)).toEqual([200]);
    expect(text).toMatch(/Content-Length: 40\r\n[\s\S]*\r\n\r\n$/);
  });

  it.each(['POST', 'PUT', 'DELETE', 'OPTIONS', 'PATCH', 'TRACE', 'PROPFIND'])('refuses %s', async (method) => {
    const { text } = await get('/', { Origin: 'http://example.invalid' }, `${method} / HTTP/1.1`);
    expect(statuses(text)).toEqual([405]);
    expect(text).toContain('Allow: GET, HEAD');
    expect(text).not.toContain('Access-Control');
  });

  it('opens no tunnel', async () => {
    expect((await get('', {}, 'CONNECT 127.0.0.1:22 HTTP/1.1')).text).toBe('');
  });

  it.each([
    'localhost:PORT',
    '[::1]:PORT',
    '127.0.0.1',
    '127.0.0.1:1',
    'rebound.invalid:PORT',
    'rebound.invalid',
    '127.0.0.1:PORT.rebound.invalid',
    '',
  ])('gives nothing to the host %j', async (name) => {
    const { text } = await exchange(
      host.port,
      request('GET / HTTP/1.1', { Host: name.replace('PORT', `${host.port}`) }),
    );
    expect(statuses(text)).toEqual([403]);
    expect(text).not.toContain('<title>');
  });

  it('gives nothing without a host, or with two', async () => {
    expect(statuses((await exchange(host.port, 'GET / HTTP/1.1\r\n\r\n')).text)).toEqual([400]);
    expect(statuses((await exchange(host.port, 'GET / HTTP/1.0\r\n\r\n')).text)).toEqual([403]);
    const two = `GET / HTTP/1.1\r\nHost: ${ownHost()}\r\nHost: rebound.invalid\r\n\r\n`;
    expect(statuses((await exchange(host.port, two)).text)).not.toContain(200);
  });
});

describe('the page folder', () => {
  it.each([
    '/../secret.txt',
    '/assets/../../secret.txt',
    '/%2e%2e/secret.txt',
    '/%2e%2e%2fsecret.txt',
    '/..%2fsecret.txt',
    '/.%2e/secret.txt',
    '/%252e%252e/secret.txt',
    '/..%c0%afsecret.txt',
    '/%c0%ae%c0%ae/secret.txt',
    '/..\\secret.txt',
    '/..%5csecret.txt',
    '/assets\\..\\..\\secret.txt',
    '/....//secret.txt',
    '/..;/secret.txt',
    '//secret.txt',
    '///etc/passwd',
    '/etc/passwd',
    '/c:/windows/win.ini',
    '/C:%5cwindows%5cwin.ini',
    '/index.html::$DATA',
    '/index.html.',
    '/index.html%20',
    '/index.html%00.txt',
    '/linked.txt',
    '/up/secret.txt',
    '/up',
    '/assets',
    '/assets/',
    '/INDEX.HTML',
    '/%69ndex.html',
    '/__proto__',
    '/constructor',
    '*',
    'http://example.invalid/',
  ])('is not left, nor anything but its files read, by %s', async (path) => {
    const { text } = await get(path);
    expect(statuses(text)).toEqual([404]);
    expect(text).not.toMatch(/SECRET|root:|<title>/);
  });

  it.each(['/\0', '/index.html\0.txt', '/a b', 'index.html', '../secret.txt'])('has no %j', async (path) => {
    const { text } = await get(path);
    expect(statuses(text)).not.toContain(200);
    expect(text).not.toMatch(/SECRET|<title>/);
  });

  it('says so when there is no built page', async () => {
    const outcome = await startLocalHost({
      contract: smallServer().server,
      downloads: noDownloads(),
      pages: join(folder, 'none'),
      port: 0,
    });
    expect(outcome).toMatchObject({ ok: false, failure: { code: 'not-found' } });
  });
});

describe('the upgrade', () => {
  it('is granted to our page, naming only the public protocol', async () => {
    const { text } = await exchange(host.port, handshake(), 300);
    expect(statuses(text)).toEqual([101]);
    expect(text).toContain('Sec-WebSocket-Protocol: turnwright.1\r\n');
    expect(text).not.toContain(host.token);
    expect(text).not.toContain('permessage-deflate');
  });

  it.each([
    ['no token', { 'Sec-WebSocket-Protocol': '' }, 401],
    ['the protocol alone', { 'Sec-WebSocket-Protocol': 'turnwright.1' }, 401],
    ['a wrong token', { 'Sec-WebSocket-Protocol': `turnwright.1, token.${freshToken()}` }, 401],
    ['a short token', { 'Sec-WebSocket-Protocol': 'turnwright.1, token.abc' }, 401],
    ['a token in another header', { 'Sec-WebSocket-Protocol': '', Authorization: 'Bearer TOKEN' }, 401],
    ['a token in a cookie', { 'Sec-WebSocket-Protocol': '', Cookie: 't=TOKEN' }, 401],
    ['a foreign origin', { Origin: 'http://example.invalid' }, 403],
    ['another port as its origin', { Origin: 'http://127.0.0.1:1' }, 403],
    ['no origin', { Origin: '' }, 403],
    ['the null origin', { Origin: 'null' }, 403],
    ['a foreign host', { Host: 'rebound.invalid' }, 403],
    ['the host by name', { Host: 'localhost:PORT', Origin: 'http://localhost:PORT' }, 403],
    ['the host by its IPv6 number', { Host: '[::1]:PORT', Origin: 'http://[::1]:PORT' }, 403],
    ['another protocol to upgrade to', { Upgrade: 'h2c' }, 400],
    ['an old version', { 'Sec-WebSocket-Version': '7' }, 400],
    ['no key', { 'Sec-WebSocket-Key': '' }, 400],
    ['a bad key', { 'Sec-WebSocket-Key': 'short' }, 400],
  ])('is refused with %s', async (_, changes, status) => {
    const filled = Object.fromEntries(
      Object.entries(changes).map(([name, value]) => [
        name,
        value.replace('PORT', `${host.port}`).replace('TOKEN', host.token),
      ]),
    );
    const { text, ended } = await exchange(host.port, handshake(filled));
    expect(statuses(text)).toEqual([status]);
    expect(ended).toBe(true);
    expect(text).not.toContain(host.token);
  });

  it('is refused with the token in the address', async () => {
    for (const path of [`/contract?t=${host.token}`, `/contract?token=${host.token}`, `/?t=${host.token}`]) {
      const { text } = await exchange(host.port, handshake({ 'Sec-WebSocket-Protocol': 'turnwright.1' }, path));
      expect(statuses(text)).toEqual([401]);
    }
  });

  it('is refused on any other path, and the contract path is no file', async () => {
    for (const path of ['/', '/contract/', '/contract/x', '/assets/index-Ab3_d-9Z.js', '//contract']) {
      expect(statuses((await exchange(host.port, handshake({}, path))).text)).toEqual([404]);
    }
    expect(statuses((await get('/contract')).text)).toEqual([404]);
  });

  it('is refused by any method but GET', async () => {
    const { text } = await exchange(host.port, handshake().replace('GET', 'POST'));
    expect(statuses(text)).toEqual([405]);
  });

  it('lets nothing in behind a refused handshake', async () => {
    const behind = request('GET / HTTP/1.1', { Host: ownHost(), Connection: 'close' });
    const { text } = await exchange(host.port, handshake({ Origin: 'null' }) + behind);
    expect(statuses(text)).toEqual([403]);
    expect(text).not.toContain('<title>');
  });

  it('judges each of several requests sent in one go by itself', async () => {
    const good = request('GET / HTTP/1.1', { Host: ownHost() });
    const foreign = request('GET / HTTP/1.1', { Host: 'rebound.invalid' });
    expect(statuses((await exchange(host.port, good + good + foreign + good)).text)).toEqual([200, 200, 403]);
    const stranger = handshake({ 'Sec-WebSocket-Protocol': '' });
    expect(statuses((await exchange(host.port, good + stranger + handshake())).text)).toEqual([200, 401]);
  });

  it('reads no request out of the body of another', async () => {
    const inner = handshake();
    const carried = request('GET / HTTP/1.1', { Host: ownHost(), 'Content-Length': `${inner.length}` }, inner);
    expect(statuses((await exchange(host.port, carried)).text)).toEqual([400]);
    const both = { Host: ownHost(), 'Content-Length': '4', 'Transfer-Encoding': 'chunked' };
    const smuggled = request('POST / HTTP/1.1', both, `0\r\n\r\n${inner}`);
    const { text } = await exchange(host.port, smuggled);
    expect(text).not.toContain('101 Switching');
    expect(statuses(text).filter((status) => status < 400)).toEqual([]);
  });
});

describe('an open connection', () => {
  it('speaks the contract', async () => {
    const socket = await open();
    expect(socket.protocol).toBe('turnwright.1');
    socket.send(hello());
    expect(await next(socket)).toMatchObject({ kind: 'welcome' });
    socket.send('{"kind":"request","id":1,"name":"count","input":{}}');
    expect(await next(socket)).toEqual({ kind: 'reply', id: 1, ok: true, value: 3 });
    socket.terminate();
  });

  it('is cut off for a message that is too large, as one frame or in parts', async () => {
    const whole = await open();
    const wholeClosed = closing(whole);
    whole.send('x'.repeat(1_048_577));
    expect(await wholeClosed).toBe(1009);
    const parts = await open();
    const partsClosed = closing(parts);
    for (let part = 0; part < 20; part += 1) parts.send('x'.repeat(100_000), { fin: false });
    expect(await partsClosed).toBe(1009);
  });

  it('is cut off for a frame that only says that it is huge', async () => {
    const frame = Buffer.from([0x81, 0xff, 0x7f, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 1, 2, 3, 4]);
    const { text, ended } = await exchange(host.port, Buffer.concat([Buffer.from(handshake()), frame]));
    expect(statuses(text)).toEqual([101]);
    expect(ended).toBe(true);
  });

  it('is cut off for garbage, and for a frame without a mask', async () => {
    for (const garbage of [
      Buffer.alloc(64, 0xff),
      Buffer.from([0x81, 0x02, 0x68, 0x69]),
      Buffer.from('GET / HTTP/1.1\r\n\r\n'),
    ]) {
      const { text, ended } = await exchange(host.port, Buffer.concat([Buffer.from(handshake()), garbage]));
      expect(statuses(text)).toEqual([101]);
      expect(ended).toBe(true);
    }
  });

  it('is cut off for anything but text', async () => {
    const socket = await open();
    const closed = closing(socket);
    socket.send(Buffer.from(hello()), { binary: true });
    expect(await closed).toBe(1003);
    const broken = await open();
    const brokenClosed = closing(broken);
    broken.send(Buffer.from([0xc3, 0x28]), { binary: false });
    expect(await brokenClosed).toBe(1007);
  });

  it('answers a bad message and goes on', async () => {
    const socket = await open();
    socket.send('tea');
    expect(await next(socket)).toMatchObject({ kind: 'refusal', failure: { code: 'bad-message' } });
    socket.send(hello());
    expect(await next(socket)).toMatchObject({ kind: 'welcome' });
    socket.terminate();
  });
});

describe('what strangers can tie up', () => {
  it('ends a handshake that never comes to its end, and a connection that says nothing', async () => {
    const half = await Promise.all([
      exchange(host.port, `GET /contract HTTP/1.1\r\nHost: ${ownHost()}\r\n`, 12_000),
      exchange(host.port, '', 12_000),
    ]);
    expect(half.map(({ ended }) => ended)).toEqual([true, true]);
  });

  it('takes 16 pages and says so to the next; one that leaves makes room', async () => {
    const alone = await started();
    const sockets = await Promise.all(Array.from({ length: 16 }, () => open(alone)));
    await expect(open(alone)).rejects.toThrow('503');
    const [first] = sockets;
    if (first === undefined) throw new Error('Sixteen were opened.');
    const gone = closing(first);
    first.close();
    await gone;
    sockets.push(await open(alone));
    await alone.close();
  });

  it('holds no more than 64 connections', async () => {
    const alone = await started();
    const sockets = Array.from({ length: 80 }, () => connect({ host: '127.0.0.1', port: alone.port }));
    const dropped = sockets.map(
      (socket) =>
        new Promise<boolean>((resolve) => {
          socket.on('error', () => undefined);
          socket.on('close', () => {
            resolve(true);
          });
          setTimeout(() => {
            resolve(false);
          }, 1000);
        }),
    );
    expect((await Promise.all(dropped)).filter(Boolean)).toHaveLength(16);
    for (const socket of sockets) socket.destroy();
    await alone.close();
  });

  it('listens on 127.0.0.1 alone', async () => {
    const others = Object.values(networkInterfaces())
      .flatMap((list) => list ?? [])
      .filter(({ address, family }) => family === 'IPv4' && address !== '127.0.0.1')
      .map(({ address }) => address);
    for (const address of [...others, '127.0.0.2', '::1']) {
      const reached = await new Promise<boolean>((resolve) => {
        const socket = connect({ host: address, port: host.port }, () => {
          socket.destroy();
          resolve(true);
        });
        socket.on('error', () => {
          resolve(false);
        });
      });
      expect(reached, address).toBe(false);
    }
  });
});

describe('starting and stopping', () => {
  it('says in a sentence that a port is taken', async () => {
    const outcome = await startLocalHost({
      contract: smallServer().server,
      downloads: noDownloads(),
      pages,
      port: host.port,
    });
    expect(outcome).toMatchObject({ ok: false, failure: { code: 'port-taken' } });
    expect(outcome.ok ? '' : outcome.failure.message).toContain(`port ${host.port}: another program uses it`);
  });

  it('ends pages and idle connections within two seconds, those that do not answer too', async () => {
    const alone = await started();
    const page = await open(alone);
    const pageClosed = closing(page);
    const deaf = await open(alone);
    deaf.pause();
    const idle = connect({ host: '127.0.0.1', port: alone.port });
    idle.on('error', () => undefined);
    await new Promise((resolve) => idle.once('connect', resolve));
    const from = performance.now();
    await alone.close();
    expect(performance.now() - from).toBeLessThan(2000);
    expect(await pageClosed).toBe(1001);
    deaf.terminate();
    await expect(open(alone)).rejects.toThrow('ECONNREFUSED');
  });
});
