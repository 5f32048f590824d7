import { onTestFinished } from 'vitest';
import { page } from 'vitest/browser';
import { startPage } from '../../src-renderer/start.ts';
import type { Memory, Seen } from '../../src-renderer/state/memory.ts';
import type { Workshop } from '../../src-renderer/state/workshop.ts';
import type { FakeProgram } from './fake-program.ts';

/**
 * Shows the whole page over a fake program at an address; taken away when the test ends, with what it kept for a reload:
 * a form that one test leaves half filled is no form of the next.
 */
export async function showPage(program: FakeProgram, hash: string, memory: Memory = forgetful): Promise<Workshop> {
  await page.viewport(1280, 800);
  location.hash = hash;
  const target = document.createElement('div');
  target.id = 'app';
  document.body.append(target);
  const { workshop, stop } = startPage(target, program.transport, memory);
  onTestFinished(async () => {
    await stop();
    target.remove();
    location.hash = '';
    localStorage.clear();
  });
  return workshop;
}

/** A memory that starts empty every time. */
const forgetful: Memory = { read: () => null, write: () => undefined };

/** A memory that keeps what was written, as a tab does over a reload. */
export function lasting(): Memory & { readonly seen: () => Seen | null } {
  let kept: Seen | null = null;
  return {
    read: () => kept,
    write: (seen) => {
      kept = seen;
    },
    seen: () => kept,
  };
}

/** The inputs of the requests of one name, in order. */
export const inputsOf = (program: FakeProgram, name: string): readonly unknown[] =>
  program.asked.filter((asked) => asked.name === name).map(({ input }) => input);
