import { expect, it } from 'vitest';
import { killInARun } from './kill.ts';

it.each([300, 1130, 1777])(
  'keeps every reading accepted more than 250 ms before a kill %i ms into a run, and begins unproved',
  async (afterMs) => {
    const killed = await killInARun(afterMs, 1000);
    expect(killed.accepted).toBeGreaterThan(afterMs / 10);
    expect(killed.missing).toEqual([]);
    expect(killed.integrity).toBe('ok');
    expect(killed.ending).toBe('interrupted');
    expect(killed.guard).toMatchObject({ kind: 'unproved', why: { code: 'restarted', was: 'live' } });
  },
  60_000,
);
