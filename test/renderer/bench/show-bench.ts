import { onTestFinished } from 'vitest';
import { page } from 'vitest/browser';
import { startPage } from '../../../src-renderer/start.ts';
import type { Workshop } from '../../../src-renderer/state/workshop.ts';
import type { BenchFixture } from './bench-fixture.ts';

/** Shows the whole page over a fake program, on the bench; taken away when the test ends. */
export async function showBench(
  fixture: BenchFixture,
  { part = '', width = 1280, height = 800 }: { part?: string; width?: number; height?: number } = {},
): Promise<Workshop> {
  await page.viewport(width, height);
  location.hash = `#/bench/${part}`;
  const target = document.createElement('div');
  target.id = 'app';
  document.body.append(target);
  const { workshop, stop } = startPage(target, fixture.program.transport, { read: () => null, write: () => {} });
  onTestFinished(async () => {
    await stop();
    target.remove();
    location.hash = '';
    localStorage.clear();
  });
  return workshop;
}
