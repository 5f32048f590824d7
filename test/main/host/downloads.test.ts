import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { ReadyFile } from '../../../src-main/export/delivery.ts';
import { createDownloads, type Downloads } from '../../../src-main/host/downloads.ts';
import { startLocalHost, type LocalHost } from '../../../src-main/host/local-host.ts';
import { smallServer } from './fakes.ts';
import { exchange, request } from './raw-http.ts';

const folder = mkdtempSync(join(tmpdir(), 'turnwright-downloads-'));
const later: { act: () => void; isOff: boolean }[] = [];
let downloads: Downloads;
let host: LocalHost;
let made = 0;

beforeAll(async () => {
  writeFileSync(join(folder, 'index.html'), '');
  downloads = createDownloads((_, act) => {
    const timer = { act, isOff: false };
    later.push(timer);
    return () => {
      timer.isOff = true;
    };
  });
  const outcome = await startLocalHost({ contract: smallServer().server, downloads, pages: folder, port: 0 });
  if (!outcome.ok) throw new Error(outcome.failure.message);
  host = outcome.value;
});
afterAll(async () => {
  await host.close();
  rmSync(folder, { recursive: true });
});
beforeEach(() => {
  downloads.close();
});

const ready = (content: string, name = 'run-7.csv'): ReadyFile => {
  const path = join(folder, `${(made += 1)}.part`);
  writeFileSync(path, content);
  return { path, name, type: 'text/csv; charset=utf-8', bytes: Buffer.byteLength(content) };
};

function offered(file: ReadyFile): string {
  const outcome = downloads.offer(file);
  if (!outcome.ok || outcome.value.kind !== 'download') throw new Error('It was not offered.');
  return outcome.value.address;
}

const ask = (path: string, headers: Readonly<Record<string, string>> = {}, method = 'GET') =>
  exchange(
    host.port,
    request(`${method} ${path} HTTP/1.1`, { Host: `127.0.0.1:${host.port}`, Connection: 'close', ...headers }),
  );
const status = ({ text }: { text: string }) => Number(/^HTTP\/1\.1 (\d+)/.exec(text)?.[1]);
const settled = () => new Promise((resolve) => setTimeout(resolve, 30));

describe('a file on its way to the browser', () => {
  it('is given once, whole, to be kept and not shown, and is gone afterwards', async () => {
    const file = ready('reading,value\r\n1,2\r\n');
    const address = offered(file);
    const answer = await ask(address, { 'Sec-Fetch-Site': 'same-origin' });
    expect(status(answer)).toBe(200);
    const [headers = '', body] = answer.text.split('\r\n\r\n');
    expect(body).toBe('reading,value\r\n1,2\r\n');
    expect(headers).toMatch(/content-disposition: attachment; filename="run-7\.csv"/i);
    expect(headers).toMatch(/x-content-type-options: nosniff/i);
    expect(headers).toMatch(/cache-control: no-store/i);
    expect(headers).toMatch(/content-security-policy: default-src 'none'[^\r]*sandbox/i);
    expect(status(await ask(address))).toBe(404);
    await settled();
    expect(existsSync(file.path)).toBe(false);
  });

  it('has a path of 256 bits, another each time, on which nothing can be read but it', async () => {
    const addresses = Array.from({ length: 5 }, () => offered(ready('x')));
    expect(new Set(addresses).size).toBe(5);
    for (const address of addresses) expect(address).toMatch(/^\/file\/[\w-]{43}$/);
    const [one = ''] = addresses;
    const tries = [
      '/file/',
      '/file',
      `${one}x`,
      one.slice(0, -1),
      `${one}?`,
      `${one}/..`,
      `/file/../${one}`,
      one.toUpperCase(),
    ];
    for (const path of [...tries, '/file/../secret.txt', '/file/%2e%2e/1.part', '/1.part']) {
      expect([path, status(await ask(path))]).toEqual([path, 404]);
    }
    expect(status(await ask(one))).toBe(200);
  });

  it('is given to no foreign page and for nothing but a whole GET of this host, and stays for ours', async () => {
    const address = offered(ready('mine'));
    expect(status(await ask(address, { 'Sec-Fetch-Site': 'cross-site' }))).toBe(404);
    expect(status(await ask(address, { 'Sec-Fetch-Site': 'same-site' }))).toBe(404);
    expect(status(await ask(address, { 'Sec-Fetch-Site': 'none' }))).toBe(404);
    expect(status(await ask(address, {}, 'HEAD'))).toBe(404);
    expect(status(await ask(address, { 'Content-Length': '0' }, 'POST'))).toBe(405);
    expect(status(await ask(address, { Host: 'bench.example' }))).toBe(403);
    expect(status(await ask(address, { Host: `localhost:${host.port}` }))).toBe(403);
    const answer = await ask(address, { 'Sec-Fetch-Site': 'same-origin', Range: 'bytes=0-1' });
    expect([status(answer), answer.text.endsWith('mine')]).toEqual([200, true]);
  });

  it('puts nothing of its name into a header of its own', async () => {
    const answer = await ask(offered(ready('x', 'a"\r\nSet-Cookie: x=1; b.csv')));
    expect(answer.text).toMatch(/filename="a___Set-Cookie__x_1__b\.csv"/);
    expect(answer.text).not.toMatch(/^set-cookie/im);
  });

  it('is removed when nobody fetches it within a minute, and when the browser goes away in the middle', async () => {
    const file = ready('late');
    const address = offered(file);
    for (const { act, isOff } of later) if (!isOff) act();
    expect(existsSync(file.path)).toBe(false);
    expect(status(await ask(address))).toBe(404);

    const large = ready('x'.repeat(40_000_000));
    const path = offered(large);
    const socket = connect({ host: '127.0.0.1', port: host.port }, () => {
      socket.write(request(`GET ${path} HTTP/1.1`, { Host: `127.0.0.1:${host.port}` }));
    });
    await new Promise((resolve) => socket.once('data', resolve));
    socket.destroy();
    for (let wait = 0; existsSync(large.path) && wait < 100; wait += 1) await settled();
    expect(existsSync(large.path)).toBe(false);
  });

  it('is refused when eight wait already', () => {
    for (let count = 0; count < 8; count += 1) offered(ready('x'));
    const ninth = ready('x');
    expect(downloads.offer(ninth)).toMatchObject({ ok: false, failure: { code: 'busy' } });
    expect(existsSync(ninth.path)).toBe(false);
  });
});
