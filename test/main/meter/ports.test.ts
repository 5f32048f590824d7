import { chmodSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listPorts, whereIs, type ListedPort, type PortSearch } from '../../../src-main/meter/ports.ts';

describe('the list of ports', () => {
  let folder = '';
  const at = (...parts: string[]) => join(folder, ...parts);
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'turnwright-ports-'));
    mkdirSync(at('serial', 'by-id'), { recursive: true });
    for (const name of ['ttyUSB0', 'ttyUSB10', 'ttyUSB2', 'ttyACM0', 'ttyS0', 'null']) writeFileSync(at(name), '');
    symlinkSync('../../ttyUSB2', at('serial', 'by-id', 'usb-invented-adapter-0042'));
    writeFileSync(at('lister'), '#!/bin/sh\nexit 0\n');
    writeFileSync(at('broken-lister'), '#!/bin/sh\nexit 1\n');
    for (const name of ['lister', 'broken-lister']) chmodSync(at(name), 0o755);
  });
  afterEach(() => {
    rmSync(folder, { recursive: true });
  });

  const search = (more: Partial<PortSearch> = {}, listed: readonly ListedPort[] = []): PortSearch => ({
    platform: 'linux',
    devices: folder,
    lister: at('lister'),
    list: () => Promise.resolve(listed),
    ...more,
  });
  const pathsOf = async (asked: PortSearch) =>
    (await listPorts(asked)).ports.map(({ path }) => path.slice(folder.length));

  it('has what the library lists and what the device folder shows, each once, adapters first', async () => {
    const listed = [
      { path: at('ttyS0') },
      { path: at('ttyUSB0'), manufacturer: 'Invented Adapters', serialNumber: '17' },
      { path: at('ttyUSB2'), serialNumber: '42' },
    ];
    const { ports, failed } = await listPorts(search({}, listed));
    expect(failed).toBeNull();
    expect(
      ports.map(({ path, identity, label }) => [path, identity, label].map((text) => text?.replaceAll(folder, ''))),
    ).toEqual([
      ['/ttyACM0', undefined, '/ttyACM0'],
      ['/ttyUSB0', '17', '/ttyUSB0 · Invented Adapters'],
      ['/ttyUSB2', '/serial/by-id/usb-invented-adapter-0042', '/ttyUSB2'],
      ['/ttyUSB10', undefined, '/ttyUSB10'],
      ['/ttyS0', undefined, '/ttyS0'],
    ]);
  });

  it('tells a failure of listing from no ports, and gives what the folder shows all the same', async () => {
    const adapters = ['/ttyACM0', '/ttyUSB0', '/ttyUSB2', '/ttyUSB10'];
    const cases = [
      [search({ lister: at('not-there') }), 'no-lister'],
      [search({ lister: at('broken-lister') }), 'lister-failed'],
      [search({ list: () => Promise.reject(new Error('no')) }), 'list-failed'],
    ] as const;
    for (const [asked, code] of cases) {
      expect((await listPorts(asked)).failed?.code).toBe(code);
      expect(await pathsOf(asked)).toEqual(adapters);
    }
    expect((await listPorts(search({ devices: at('serial', 'nowhere') }))).ports).toEqual([]);
    expect((await listPorts(search())).failed).toBeNull();
  });

  it('leaves the device folder alone where there is none', async () => {
    const asked = search({ platform: 'win32', lister: at('not-there') }, [{ path: 'COM3' }]);
    expect(await listPorts(asked)).toEqual({ ports: [{ path: 'COM3', identity: null, label: 'COM3' }], failed: null });
  });

  it('finds an adapter by its lasting name when its path has changed', async () => {
    const identity = at('serial', 'by-id', 'usb-invented-adapter-0042');
    const list = () => listPorts(search({}, [{ path: at('ttyUSB10'), serialNumber: '42' }]));
    expect(await whereIs({ path: at('ttyUSB0'), identity }, list)).toBe(at('ttyUSB2'));
    expect(await whereIs({ path: at('ttyUSB0'), identity: '42' }, list)).toBe(at('ttyUSB10'));
    expect(await whereIs({ path: at('ttyUSB0'), identity: at('gone') }, list)).toBe(at('ttyUSB0'));
    expect(await whereIs({ path: at('ttyUSB0'), identity: 'gone' }, list)).toBe(at('ttyUSB0'));
    expect(await whereIs({ path: '/dev/typed-by-hand', identity: null }, list)).toBe('/dev/typed-by-hand');
  });

  it('reads no other adapter in the place of one that is gone', async () => {
    const list = () => listPorts(search({}, [{ path: at('ttyUSB10'), serialNumber: '42' }]));
    for (const identity of ['41', at('serial', 'by-id', 'usb-invented-adapter-0041')]) {
      for (const path of [at('ttyUSB2'), at('ttyUSB10')])
        expect(await whereIs({ path, identity }, list)).toBe(identity);
    }
  });
});
