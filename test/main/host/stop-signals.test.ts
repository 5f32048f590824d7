import { describe, expect, it, vi } from 'vitest';
import { stopOnSignals } from '../../../src-main/host/stop-signals.ts';

function stoppable(stop: () => Promise<void>) {
  const acts = new Map<string, () => void>();
  const exits: number[] = [];
  const said: string[] = [];
  let nowMs = 0;
  const target = {
    on: (signal: string, act: () => void) => acts.set(signal, act),
    exit: (code: number) => exits.push(code),
  };
  stopOnSignals(
    target,
    stop,
    (line) => said.push(line),
    () => nowMs,
  );
  const signal = (name: string, atMs: number) => {
    nowMs = atMs;
    acts.get(name)?.();
  };
  return { exits, said, signal };
}

const never = () => new Promise<void>(() => undefined);
const settled = () => new Promise((resolve) => setImmediate(resolve));

describe('stop signals', () => {
  it.each(['SIGINT', 'SIGTERM', 'SIGHUP'])('stop cleanly on %s', async (name) => {
    const { exits, signal } = stoppable(() => Promise.resolve());
    signal(name, 0);
    expect(exits).toEqual([]);
    await settled();
    expect(exits).toEqual([0]);
  });

  it('take one press for one, however often it arrives', () => {
    const { exits, said, signal } = stoppable(never);
    signal('SIGINT', 1000);
    signal('SIGINT', 1010);
    signal('SIGTERM', 1200);
    expect(exits).toEqual([]);
    expect(said).toEqual(['Stopping ...']);
  });

  it('end at once on a second one', () => {
    const { exits, signal } = stoppable(never);
    signal('SIGTERM', 1000);
    signal('SIGTERM', 1500);
    expect(exits).toEqual([1]);
  });

  it('say why stopping failed', async () => {
    const { exits, said, signal } = stoppable(() => Promise.reject(new Error('disk gone')));
    signal('SIGTERM', 0);
    await settled();
    expect(exits).toEqual([1]);
    expect(said.join()).toContain('disk gone');
  });

  it('give up after a few seconds', () => {
    vi.useFakeTimers();
    const { exits, signal } = stoppable(never);
    signal('SIGTERM', 0);
    vi.advanceTimersByTime(4000);
    vi.useRealTimers();
    expect(exits).toEqual([1]);
  });
});
