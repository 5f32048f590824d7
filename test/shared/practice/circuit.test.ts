import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../../src-shared/practice/circuit.ts';
import { steadyPeriod } from '../../../src-shared/practice/steady-state.ts';
import { ironHeat, meanProduct, waveFacts } from '../../../src-shared/practice/wave.ts';
import { byRungeKutta } from './another-way.ts';
import { scrapIron, straightIron } from './given.ts';

const near = (value: number, expected: number, share = 1e-3) => {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(share * Math.abs(expected));
};

/** Eddies and leakage large enough for an explicit method to take steps that can be waited for. */
const lossy = { ...scrapIron, eddy: 0.3 };
const fed = { turns: 320, ohms: 6, henries: 0.02 };

describe('the settled period against another method in tighter steps', () => {
  const cases: readonly (readonly [string, Circuit])[] = [
    ['deep in saturation', { iron: lossy, volts: 280, hertz: 50, fed, loaded: [] }],
    ['below the knee', { iron: lossy, volts: 120, hertz: 50, fed: { ...fed, ohms: 40 }, loaded: [] }],
    [
      'at 60 Hz with two loads',
      {
        iron: lossy,
        volts: 240,
        hertz: 60,
        fed,
        loaded: [
          { turns: 20, ohms: 1.5, henries: 0 },
          { turns: 1, ohms: 0.05, henries: 0 },
        ],
      },
    ],
  ];
  test('agrees within 0.1 % where shunts, a soft supply and a loop of two strands leak', () => {
    // 30 times the leakage and a soft source before it; 44 turns of a loop that is closed on itself, leaking enough for an explicit method.
    const leaking = { turns: 320, ohms: 15.5, henries: 0.07 };
    const strands = { turns: 44, ohms: 0.6, henries: 2e-3 };
    const circuit = { iron: lossy, volts: 240, hertz: 50, fed: leaking, loaded: [strands] };
    const period = steadyPeriod(circuit);
    const other = byRungeKutta(circuit, 24, 1000);
    near(waveFacts(period.amps[0] ?? []).rms, other.amps);
    near(waveFacts(period.flux).peak, other.flux);
  });
  for (const [name, circuit] of cases) {
    test(`agrees within 0.1 % ${name}`, () => {
      const period = steadyPeriod(circuit);
      const other = byRungeKutta(circuit, 20, 2400);
      near(waveFacts(period.amps[0] ?? []).rms, other.amps);
      near(waveFacts(period.flux).peak, other.flux);
    });
  }
});

describe('a core that holds its flux in proportion, against the exact answer of its circuit', () => {
  test('agrees with phasors, leakage and load included', () => {
    const [turns, loadTurns, volts, hertz] = [200, 20, 100, 50];
    const [ohms, henries, loadOhms, loadHenries] = [2, 8e-3, 1.2, 1e-3];
    const iron = straightIron(150, 0.2);
    const angular = 2 * Math.PI * hertz;
    // Ampere-turns = (reluctance + j angular loss) flux; everything is seen from the fed side.
    const reluctance = (iron.pathM * iron.linear) / iron.areaM2;
    const loss = (iron.pathM / iron.areaM2) * iron.eddy;
    const over = ([a, b]: Complex): Complex => [a / (a * a + b * b), -b / (a * a + b * b)];
    const times = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c];
    const plus = ([a, b]: Complex, [c, d]: Complex): Complex => [a + c, b + d];
    const magnetising = times([0, angular * turns * turns], over([reluctance, angular * loss]));
    const ratio = (turns / loadTurns) ** 2;
    const load: Complex = [loadOhms * ratio, angular * loadHenries * ratio];
    const core = over(plus(over(magnetising), over(load)));
    const whole = plus([ohms, angular * henries], core);
    const size = ([a, b]: Complex) => Math.hypot(a, b);

    const period = steadyPeriod({
      iron,
      volts,
      hertz,
      fed: { turns, ohms, henries },
      loaded: [{ turns: loadTurns, ohms: loadOhms, henries: loadHenries }],
    });
    near(waveFacts(period.amps[0] ?? []).rms, volts / size(whole));
    near(waveFacts(period.voltsPerTurn).rms * turns, (volts * size(core)) / size(whole));
    near(meanProduct(period.source, period.amps[0] ?? []), (volts * volts * whole[0]) / size(whole) ** 2);
  });
});

describe('energy', () => {
  test('what the source gives is what resistances and iron turn into heat', () => {
    for (const volts of [60, 150, 230, 300]) {
      const loaded = [{ turns: 24, ohms: 2, henries: 2e-5 }];
      const coil = { turns: 320, ohms: 1.3, henries: 2.4e-3 };
      const period = steadyPeriod({ iron: scrapIron, volts, hertz: 50, fed: coil, loaded });
      const given = meanProduct(period.source, period.amps[0] ?? []);
      const copper = [coil, ...loaded].reduce(
        (sum, { ohms }, index) => sum + ohms * waveFacts(period.amps[index] ?? []).rms ** 2,
        0,
      );
      near(given, copper + ironHeat(period));
    }
  });

  test('hysteresis loses four times its half width a cycle over the Steinmetz power, in each kilogram alike', () => {
    const iron = { ...scrapIron, gapM: 0, saturating: 0, eddy: 0 };
    const period = steadyPeriod({
      iron,
      volts: 150,
      hertz: 50,
      fed: { turns: 320, ohms: 1e-3, henries: 0 },
      loaded: [],
    });
    const tesla = waveFacts(period.flux).peak / iron.areaM2;
    const cycle = (4 * iron.hysteresis * tesla ** iron.steinmetz) / iron.steinmetz;
    near(ironHeat(period), 50 * iron.areaM2 * iron.pathM * cycle, 0.02);
  });
});

type Complex = readonly [real: number, imaginary: number];
