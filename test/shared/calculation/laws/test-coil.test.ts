import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accept } from '../ask.ts';
import { close, options, between } from './law.ts';

/** Readings of one primary with errors under half a percent. */
const readings = fc
  .record({
    turns: fc.integer({ min: 40, max: 600 }),
    perTurn: between(0.02, 1.5),
    coils: fc.array(
      fc.record({
        coilTurns: fc.integer({ min: 1, max: 100 }),
        off: between(-0.005, 0.005),
        percent: between(0.1, 1),
        shape: fc.constantFrom('normal', 'rectangular', 'triangular'),
      }),
      { minLength: 1, maxLength: 4 },
    ),
  })
  .map(({ turns, perTurn, coils }) =>
    coils.map(({ coilTurns, off, percent, shape }) => ({
      coilTurns,
      coilVolts: { value: coilTurns * perTurn * (1 + off), u: 0.01 * percent * coilTurns * perTurn, shape },
      primaryVolts: { value: turns * perTurn, u: 0.003 * turns * perTurn, shape },
    })),
  );
type Readings = typeof readings extends fc.Arbitrary<infer R> ? R : never;

const turnsOf = (given: Readings) => accept('test-coil', { readings: given }).results.primaryTurns;

describe('laws of the test coil', () => {
  it('does not care in which unit of voltage all readings are', () => {
    const scaled = (given: Readings, by: number): Readings =>
      given.map((each) => ({
        ...each,
        coilVolts: { ...each.coilVolts, value: each.coilVolts.value * by, u: each.coilVolts.u * by },
        primaryVolts: { ...each.primaryVolts, value: each.primaryVolts.value * by, u: each.primaryVolts.u * by },
      }));
    fc.assert(
      fc.property(readings, (given) => {
        const [volts, millivolts] = [turnsOf(given), turnsOf(scaled(given, 1000))];
        close(millivolts.value, volts.value);
        close(millivolts.u, volts.u);
      }),
      options,
    );
  });

  it('does not care in which order the readings come', () => {
    fc.assert(
      fc.property(readings, (given) => {
        const [forth, back] = [turnsOf(given), turnsOf([...given].reverse())];
        close(back.value, forth.value);
        close(back.u, forth.u);
      }),
      options,
    );
  });

  it('lies between the smallest and the largest single count', () => {
    fc.assert(
      fc.property(readings, (given) => {
        const single = given.map(
          ({ coilTurns, coilVolts, primaryVolts }) => (coilTurns * primaryVolts.value) / coilVolts.value,
        );
        const { value } = turnsOf(given);
        expect(value).toBeGreaterThanOrEqual(Math.min(...single) * (1 - 1e-9));
        expect(value).toBeLessThanOrEqual(Math.max(...single) * (1 + 1e-9));
      }),
      options,
    );
  });

  it('has shares of the variance that add up to one', () => {
    fc.assert(
      fc.property(readings, (given) => {
        const shares = (turnsOf(given).budget ?? []).reduce((sum, { share }) => sum + share, 0);
        expect(shares).toBeCloseTo(1, 9);
      }),
      options,
    );
  });

  it('gives turns and volts per turn that multiply to the primary volts', () => {
    fc.assert(
      fc.property(readings, (given) => {
        const { primaryTurns, voltsPerTurn } = accept('test-coil', { readings: given }).results;
        close(primaryTurns.value * voltsPerTurn.value, given[0]?.primaryVolts.value);
      }),
      options,
    );
  });
});
