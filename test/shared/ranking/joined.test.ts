import { describe, expect, it } from 'vitest';
import type { CoreFacts } from '../../../src-shared/ranking/core-facts.ts';
import { isServed, joinedFor } from '../../../src-shared/ranking/joined.ts';
import { rankFacts } from '../../../src-shared/ranking/rank.ts';
import { demand, facts, nothingKnown } from './given.ts';

const alike = (more: Partial<CoreFacts> = {}): readonly CoreFacts[] =>
  [1, 2].map((coreId) => ({ ...facts({ primaryWireMm: 0.7, ...more }), coreId }));

describe('two cores for a need that none does alone', () => {
  const heavy = demand({ amps: 48 });

  it('shares the amps in parallel, and says what one turn too few would do', () => {
    expect(isServed(rankFacts(alike(), heavy))).toBe(false);
    const parallel = joinedFor(alike(), heavy).find(({ way }) => way === 'parallel');
    expect(parallel).toMatchObject({ coreIds: [1, 2], standing: 'will-do', kg: 10.6 });
    expect(parallel?.words[0]).toBe('Of the load each gives 24 V and 24 A.');
    expect(parallel?.words[1]).toMatch(
      /^One turn too few in one of them, 0.56 V, would drive about [\d.]+ A round both/,
    );
  });

  it('shares the volts in series', () => {
    const series = joinedFor(alike(), heavy).find(({ way }) => way === 'series');
    expect(series?.words[0]).toBe('Of the load each gives 12 V and 48 A.');
  });

  it('puts cores made for half of the line in series on it', () => {
    const american = alike({ turns: { value: 206, u: 0 }, primaryWireMm: 1 });
    const [best] = joinedFor(american, demand({ amps: 30 }));
    expect(best).toMatchObject({ way: 'double-supply', standing: 'will-do' });
    expect(best?.words[0]).toBe('On 115 V each, each gives 12 V and 30 A.');
  });

  it('makes one core of two alike, with primaries in parallel only where their turns are proved equal', () => {
    const stackOf = (all: readonly CoreFacts[]) => joinedFor(all, heavy).find(({ way }) => way === 'double-stack');
    const counted = alike({ turns: { value: 412, u: 0 } });
    expect(stackOf(counted)?.words).toEqual(['Primaries in parallel: 412 turns each, proved equal.']);
    const [one, other] = counted;
    if (one === undefined || other === undefined) throw new Error('Two cores were made.');
    const unlike = [one, { ...other, turns: { value: 409, u: 0 } }];
    // 230 / 410.5 V a turn × 3 turns over 2 × 2.9 Ω
    expect(stackOf(unlike)?.words[0]).toContain('not proved equal, about 0.29 A round them: not in parallel');
    const wider = { ...other, fields: { ...other.fields, windowWidth: { value: 30, u: 0.1 } } };
    expect(stackOf([one, wider])).toBeUndefined();
  });

  it('proposes nothing where the circuit itself is too small, or where there are not two', () => {
    const circuit = { volts: 230, hertz: 50, amps: 3 } as const;
    expect(joinedFor(alike(), demand({ amps: 48, circuit }))).toEqual([]);
    expect(joinedFor([facts()], heavy)).toEqual([]);
  });

  it('says how far even two are from it, where none of the ways does it', () => {
    const found = joinedFor(alike(), demand({ amps: 150 }));
    expect(found.map(({ standing }) => standing)).toEqual(['will-not', 'will-not', 'will-not', 'will-not']);
    expect(found[0]?.words.at(-1)).toMatch(/^It takes \d+ % of what there is where it is tightest\.$/);
    expect(joinedFor(alike(), heavy).map(({ standing }) => standing)).not.toContain('will-not');
  });

  it('keeps what is not known so', () => {
    const found = joinedFor([nothingKnown(1), nothingKnown(2)], heavy);
    expect(found.map(({ standing }) => standing)).toEqual(['not-known', 'not-known', 'not-known']);
  });
});
