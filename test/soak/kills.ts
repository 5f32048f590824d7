import { killInRuns } from '../faults/kill.ts';
import { seededGenerator } from '../../src-shared/quantity/generator.ts';
import type { Soak } from './soak.ts';

/** Kills at random moments of a run at a thousand readings a second: 200 of them, or six when short. */
export const killsSoak: Soak = {
  name: 'kills',
  run: async ({ seed, isShort }) => {
    const random = seededGenerator(seed);
    const kills = isShort ? 6 : 200;
    const inARow = isShort ? 3 : 20;
    let accepted = 0;
    for (let before = 0; before < kills; before += inARow) {
      const moments = Array.from({ length: inARow }, () => Math.round(50 + 2950 * random.uniform()));
      for (const { afterMs, missing, integrity, ending, guard, ...rest } of await killInRuns(moments, 1000)) {
        accepted += rest.accepted;
        const isTruthful = ending === 'interrupted' && guard.kind === 'unproved';
        if (missing.length > 0 || integrity !== 'ok' || !isTruthful) {
          throw new Error(
            `A kill after ${afterMs} ms: ${missing.length} readings lost, integrity ${String(integrity)}, ` +
              `run ${ending}, guard ${guard.kind}`,
          );
        }
      }
    }
    return `${kills} kills, ${accepted} readings accepted, none lost that was older than 250 ms`;
  },
};
