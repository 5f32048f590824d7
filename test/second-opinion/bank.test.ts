import fc from 'fast-check';
import { abs, add, arg, complex, divide, subtract, type Complex } from 'mathjs';
import { expect, it } from 'vitest';
import { accept } from '../shared/calculation/ask.ts';
import { close } from './close.ts';

const over = (a: Complex | number, b: Complex | number) => complex(divide(a, b) as Complex);
const plus = (a: Complex, b: Complex) => complex(add(a, b));
const minus = (a: Complex, b: Complex) => complex(subtract(a, b));
const polar = (length: number, angle: number) => complex({ r: length, phi: angle });

const rounded = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((x) => Math.round(x * 1e6) / 1e6);
const unit = fc.record({
  openVolts: rounded(20, 28),
  ohms: rounded(0.01, 0.1),
  reactance: rounded(0, 0.1),
  phaseDegrees: rounded(-5, 5),
  ratedAmps: fc.constant(500),
});

it('shares a load between units in parallel as the sum of the currents at their node has it', () => {
  fc.assert(
    fc.property(
      fc.array(unit, { minLength: 2, maxLength: 4 }),
      rounded(1, 40),
      rounded(0.5, 1),
      fc.constantFrom('lagging', 'leading'),
      (units, loadAmps, powerFactor, sense) => {
        const parts = units.map(({ openVolts, ohms, reactance, phaseDegrees }) => ({
          volts: polar(openVolts, (phaseDegrees * Math.PI) / 180),
          impedance: complex(ohms, reactance),
        }));
        const admittance = parts.map(({ impedance }) => over(1, impedance)).reduce(plus);
        const driven = parts.map(({ volts, impedance }) => over(volts, impedance)).reduce(plus);
        const behind = Math.acos(powerFactor) * (sense === 'lagging' ? -1 : 1);
        // The load's current goes with the volts that it leaves: again and again until nothing moves.
        let terminal = over(driven, admittance);
        const open = terminal;
        for (let step = 0; step < 200; step += 1) {
          terminal = over(minus(driven, polar(loadAmps, arg(terminal) + behind)), admittance);
        }
        const found = accept('bank', { join: 'parallel', units, loadAmps, powerFactor, sense }).results;
        close(found.loadVolts?.value ?? NaN, Number(abs(terminal)), 1e-8);
        close(found.openVolts.value, Number(abs(open)), 1e-8);
        const carried = (at: Complex) =>
          parts.map(({ volts, impedance }) => Number(abs(over(minus(volts, at), impedance))));
        carried(terminal).forEach((amps, k) =>
          expect(Math.abs((found.sharing[k]?.amps.value ?? NaN) - amps)).toBeLessThan(1e-6),
        );
        expect(Math.abs((found.circulatingAmps?.value ?? NaN) - Math.max(...carried(open)))).toBeLessThan(1e-6);
      },
    ),
    { seed: 20260506, numRuns: 60 },
  );
});
