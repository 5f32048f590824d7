import { expect, test } from 'vitest';
import { openStore } from '../../../src-main/store/open-store.ts';
import { code, wallClock } from './furnish.ts';
import { opened, temporaryFolder } from './open-for-test.ts';
import { startChild } from './run-child.ts';

const options = { wallNow: wallClock(), programVersion: '0.1.0' };

test('a folder that another program holds is refused, and free as soon as that program is killed', async () => {
  const folder = temporaryFolder();
  const child = startChild('hold', folder);
  await child.line((line) => line === 'held');
  expect(code(openStore(folder, options))).toBe('store-held');
  expect(code(openStore(folder, options))).toBe('store-held');
  expect(await child.kill()).toBe('SIGKILL');
  opened(folder);
});

test('a folder that this program holds is refused to another', async () => {
  const folder = temporaryFolder();
  const store = opened(folder);
  const child = startChild('hold', folder);
  await child.ended;
  expect(child.lines).toEqual(['refused store-held']);
  expect(store.cores.list()).toEqual([]);
});
