import { describe, expect, it } from 'vitest';
import { killInRuns } from './kill.ts';

/** In ms since the first accepted reading: within the first batch, round the times of the next ones, and well into a run. */
const moments = [
  [0, 60, 150, 190, 210, 290, 470, 780, 1130, 1777],
  [20, 110, 170, 200, 250, 330, 400, 650, 930, 1450],
] as const;

describe('a kill in a run at a thousand readings a second', () => {
  it.concurrent.each(moments.map((each) => [each] as const))(
    'loses no reading accepted more than 250 ms before, and the next start begins unproved: after %j ms',
    async (momentsMs) => {
      const all = await killInRuns(momentsMs, 1000);
      expect(all.map(({ afterMs }) => afterMs)).toEqual(momentsMs);
      for (const { afterMs, accepted, missing, integrity, ending, guard } of all) {
        expect(accepted, `readings accepted in ${afterMs} ms`).toBeGreaterThan(afterMs / 10);
        expect(missing, `lost after ${afterMs} ms`).toEqual([]);
        expect(integrity).toBe('ok');
        expect(ending).toBe('interrupted');
        expect(guard).toMatchObject({ kind: 'unproved', why: { code: 'restarted', was: 'live' } });
      }
    },
    180_000,
  );
});
