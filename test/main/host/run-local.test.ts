import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runLocal } from '../../../src-main/host/run-local.ts';
import { usualPort } from '../../../src-main/host/usual-port.ts';
import { done, failed } from '../../../src-shared/contract/failure.ts';
import { emptyServices } from '../../contract/stand-in.ts';

const pages = mkdtempSync(join(tmpdir(), 'turnwright-run-'));
writeFileSync(join(pages, 'index.html'), '<!doctype html>');

afterAll(() => {
  rmSync(pages, { recursive: true });
});

/** Runs a program of nothing and keeps account of what was opened and closed. */
async function run(port: number | null, data: string | null = null) {
  const did: string[] = [];
  const running = await runLocal({
    chosen: { port, folder: data },
    create: (folder) => {
      did.push(`open ${folder}`);
      return done({
        services: emptyServices,
        subscribe: () => () => did.push('leave'),
        close: () => {
          did.push('close');
          return Promise.resolve();
        },
      });
    },
    pages,
    log: (line) => did.push(line),
    checkReplies: true,
  });
  return { did, running };
}

describe('the program on the local host', () => {
  it('hears no more, and only then closes, when it is told to stop', async () => {
    const { did, running } = await run(0, pages);
    if (!running.ok) throw new Error(running.failure.message);
    await running.value.close();
    expect(did).toEqual([`open ${pages}`, 'leave', 'close']);
  });

  it('lets the folder go when the port is taken', async () => {
    const first = await run(0, pages);
    if (!first.running.ok) throw new Error(first.running.failure.message);
    const { did, running } = await run(Number(new URL(first.running.value.url).port), pages);
    expect(running).toMatchObject({ ok: false, failure: { code: 'port-taken' } });
    expect(did).toEqual([`open ${pages}`, 'leave', 'close']);
    await first.running.value.close();
  });

  it('is at the same address at every start of a folder, and at another where that is taken', async () => {
    const portOf = ({ running }: Awaited<ReturnType<typeof run>>) => {
      if (!running.ok) throw new Error(running.failure.message);
      return { port: Number(new URL(running.value.url).port), close: () => running.value.close() };
    };
    const first = portOf(await run(null, pages));
    const beside = portOf(await run(null, pages));
    expect(beside.port).not.toBe(first.port);
    await Promise.all([first.close(), beside.close()]);
    const again = portOf(await run(null, pages));
    await again.close();
    expect(again.port).toBe(first.port);
    expect(usualPort(pages)).toBe(first.port);
    expect(usualPort('/home/a')).not.toBe(usualPort('/home/b'));
  });

  it('passes on why the program cannot be had', async () => {
    const running = await runLocal({
      chosen: { port: 0, folder: pages },
      create: () => failed('busy', 'Another copy holds it.'),
      pages,
      log: () => undefined,
      checkReplies: true,
    });
    expect(running).toMatchObject({ ok: false, failure: { code: 'busy', message: 'Another copy holds it.' } });
  });
});
