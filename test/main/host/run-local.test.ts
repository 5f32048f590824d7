import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runLocal } from '../../../src-main/host/run-local.ts';
import { done, failed } from '../../../src-shared/contract/failure.ts';
import { emptyServices } from '../../contract/stand-in.ts';

const pages = mkdtempSync(join(tmpdir(), 'turnwright-run-'));
writeFileSync(join(pages, 'index.html'), '<!doctype html>');

afterAll(() => {
  rmSync(pages, { recursive: true });
});

/** Runs a program of nothing and keeps account of what was opened and closed. */
async function run(port: number, data: string | null = null) {
  const did: string[] = [];
  const running = await runLocal({
    chosen: { opensBrowser: false, port, folder: data },
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

  it('passes on why the program cannot be had', async () => {
    const running = await runLocal({
      chosen: { opensBrowser: false, port: 0, folder: pages },
      create: () => failed('busy', 'Another copy holds it.'),
      pages,
      log: () => undefined,
      checkReplies: true,
    });
    expect(running).toMatchObject({ ok: false, failure: { code: 'busy', message: 'Another copy holds it.' } });
  });
});
