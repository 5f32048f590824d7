import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accept } from './ask.ts';

const options = { seed: 20260401, numRuns: 60 };
const positive = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Readings of one primary with errors under half a percent. */
const readings = fc
  .record({
    turns: fc.integer({ min: 40, max: 600 }),
    perTurn: positive(0.02, 1.5),
    coils: fc.array(
      fc.record({
        coilTurns: fc.integer({ min: 1, max: 100 }),
        off: positive(-0.005, 0.005),
        percent: positive(0.1, 1),
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
const close = (a: number | null | undefined, b: number | null | undefined) =>
  expect(Math.abs((a ?? NaN) - (b ?? NaN))).toBeLessThanOrEqual(1e-6 * Math.abs(b ?? NaN));

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

describe('laws of winding volts', () => {
  const turns = positive(1, 3000);

  it('comes back to the feed when it is asked from the other side', () => {
    fc.assert(
      fc.property(turns, turns, positive(0.1, 400), (a, b, volts) => {
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
        positive(1, 50),
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

describe('laws of geometry and flux', () => {
  it('doubles the widest wire when both sides of the window double', () => {
    fc.assert(
      fc.property(
        positive(5, 100),
        positive(5, 100),
        fc.integer({ min: 1, max: 500 }),
        positive(0.2, 0.9),
        (w, h, turns, fill) => {
          const wire = (by: number) =>
            accept('widest-wire', { windowWidthMm: w * by, windowHeightMm: h * by, turns, fill }).results
              .overallDiameter.value;
          close(wire(2), 2 * wire(1));
        },
      ),
      options,
    );
  });

  it('keeps the flux density when volts and hertz change together', () => {
    fc.assert(
      fc.property(
        positive(10, 400),
        positive(20, 400),
        positive(50, 800),
        positive(200, 5000),
        positive(0.2, 5),
        (volts, hertz, turns, ironAreaMm2, by) => {
          const at = (k: number) =>
            accept('flux-density', { volts: volts * k, hertz: hertz * k, turns, ironAreaMm2 }).results.peakFluxDensity
              .value;
          close(at(by), at(1));
        },
      ),
      options,
    );
  });
});
