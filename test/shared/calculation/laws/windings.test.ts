import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accept } from '../ask.ts';
import { between, close, known, options, orNothing, scaled } from './law.ts';

describe('laws of winding volts', () => {
  const turns = between(1, 3000);

  it('comes back to the feed when it is asked from the other side', () => {
    fc.assert(
      fc.property(turns, turns, between(0.1, 400), (a, b, volts) => {
        const windings = [
          { name: 'a', role: 'primary', turns: a },
          { name: 'b', role: 'secondary', turns: b },
        ];
        const forth = accept('winding-volts', { windings, fedIndex: 0, feedVolts: volts }).results.windings[1]?.volts;
        const back = accept('winding-volts', { windings, fedIndex: 1, feedVolts: forth?.value }).results;
        close(back.windings[0]?.volts?.value, volts);
      }),
      options,
    );
  });

  it('keeps every winding at or under the bound at the feed that it proposes', () => {
    fc.assert(
      fc.property(
        fc.array(turns, { minLength: 1, maxLength: 5 }),
        fc.nat(),
        between(1, 50),
        (all, pick, boundVolts) => {
          const windings = all.map((each, index) => ({
            name: `w${index}`,
            role: index === 0 ? 'primary' : 'other',
            turns: each,
          }));
          const input = { windings, fedIndex: pick % all.length, feedVolts: 1, boundVolts, isolatedSource: true };
          const { highestFeedVolts } = accept('winding-volts', input).results;
          const {
            windings: found,
            highestVolts,
            grade,
          } = accept('winding-volts', { ...input, feedVolts: highestFeedVolts.value }).results;
          const highest = Math.max(...found.map(({ volts }) => volts?.value ?? NaN));
          close(highest, boundVolts);
          close(highestVolts?.value, boundVolts);
          expect(grade).toBe('handful');
        },
      ),
      options,
    );
  });
});

describe('laws of turns and volts', () => {
  const winding = fc.record({ measuredVolts: between(5, 60), turns: fc.integer({ min: 5, max: 80 }) });

  it('never asks for fewer turns where more volts are wanted', () => {
    fc.assert(
      fc.property(winding, between(5, 60), between(0, 20), (given, targetVolts, more) => {
        const add = (volts: number) => accept('adjust-turns', { ...given, targetVolts: volts }).results.turnsToAdd;
        expect(add(targetVolts + more)).toBeGreaterThanOrEqual(add(targetVolts));
      }),
      options,
    );
  });

  it('comes within half a turn of the volts wanted, and then asks for no more', () => {
    fc.assert(
      fc.property(winding, between(5, 60), (given, targetVolts) => {
        const { turnsToAdd, voltsAfter, voltsPerTurn } = accept('adjust-turns', { ...given, targetVolts }).results;
        expect(Math.abs(voltsAfter.value - targetVolts)).toBeLessThanOrEqual(voltsPerTurn.value * (0.5 + 1e-9));
        const next = { measuredVolts: voltsAfter.value, turns: given.turns + turnsToAdd, targetVolts };
        expect(accept('adjust-turns', next).results.turnsToAdd).toBe(0);
      }),
      options,
    );
  });

  it('judges a low line as it judges a right one', () => {
    fc.assert(
      fc.property(winding, between(10, 50), between(0.9, 1.1), (given, targetVolts, line) => {
        const at = (part: number) =>
          accept('adjust-turns', {
            ...given,
            measuredVolts: given.measuredVolts * part,
            primaryVolts: 120 * part,
            nominalVolts: 120,
            targetVolts,
          }).results.voltsPerTurn.value;
        close(at(line), at(1));
      }),
      options,
    );
  });

  it('joins two cores the same way whichever comes first', () => {
    const core = fc.record({ turns: fc.integer({ min: 80, max: 160 }), ohms: between(0.1, 2) });
    fc.assert(
      fc.property(core, core, between(100, 240), (one, other, coreVolts) => {
        const join = (first: typeof one, second: typeof one) =>
          accept('double-stack', {
            windowWidthMm: 20,
            windowHeightMm: 60,
            coreVolts: known(coreVolts, 0.5),
            firstTurns: first.turns,
            secondTurns: second.turns,
            firstOhms: known(first.ohms, 1),
            secondOhms: known(second.ohms, 1),
            supply: 'same',
          }).results;
        const [forth, back] = [join(one, other), join(other, one)];
        expect(back.primaryJoin).toBe(forth.primaryJoin);
        scaled(back.circulatingAmps, forth.circulatingAmps, 1);
      }),
      options,
    );
  });

  it('tells aiding from opposing, whichever of the two windings is named first', () => {
    fc.assert(
      fc.property(between(5, 60), between(5, 60), fc.boolean(), (a, b, aids) => {
        const joinedVolts = { value: orNothing(aids ? a + b : Math.abs(a - b)), u: 0.05 };
        const ask = (first: number, second: number) =>
          accept('polarity', { firstVolts: known(first, 0.1), secondVolts: known(second, 0.1), joinedVolts }).results
            .polarity;
        expect(ask(a, b)).toBe(aids ? 'aiding' : 'opposing');
        expect(ask(b, a)).toBe(ask(a, b));
      }),
      options,
    );
  });
});
