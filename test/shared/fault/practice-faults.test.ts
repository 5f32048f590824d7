import { describe, expect, it } from 'vitest';
import { hideableFaults } from '../../../src-shared/practice/fault.ts';
import { rateOf } from './fault-rates.ts';

// Frozen samples: test/soak/practice-faults.ts lays each fault on many more.
const seed = 20261129;
const each = 2;
const sound = 8;

describe('readings of the practice bench, through the fault reader', () => {
  it.each(hideableFaults)('name %s, among a few at most', (fault) => {
    const { right, mostNamed, wrong } = rateOf(fault, each, seed);
    expect({ right, wrong }).toEqual({ right: each, wrong: [] });
    expect(mostNamed).toBeLessThanOrEqual(4);
  });

  it('name nothing where nothing is wrong', () => {
    const { right, wrong } = rateOf('none', sound, seed);
    expect({ right, wrong }).toEqual({ right: sound, wrong: [] });
  });
});
