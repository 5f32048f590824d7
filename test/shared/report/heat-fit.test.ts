import { expect, test } from 'vitest';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { heatFit } from '../../../src-shared/report/heat-fit.ts';

/** Noise as of a thermometer, the same in every run. */
const noise = [0.02, -0.03, 0.01, 0.03, -0.02];

/** Readings of one body from 20 °C towards 80 °C with a time constant of an hour, each with the doubt given. */
const heat = (minutes: readonly number[], u: number | null, curve = (hours: number) => 80 - 60 * Math.exp(-hours)) =>
  calculate('heat-run', {
    points: minutes.map((minute, index) => ({
      seconds: minute * 60,
      celsius: { value: curve(minute / 60) + (noise[index % noise.length] ?? 0), u },
    })),
  });
const every = (step: number, until: number) => Array.from({ length: until / step + 1 }, (_, index) => index * step);

test('a run of two time constants and more carries its final value', () => {
  expect(heatFit('heat-run', heat(every(10, 180), 0.2), true)).toBeNull();
  expect(heatFit('heat-run', heat(every(10, 180), null), true)).toBeNull();
});

test('before one time constant there is none to rely on, before two it may move; each says until when', () => {
  const soon = heatFit('heat-run', heat(every(5, 45), 0.05), false);
  expect(soon).toMatchObject({ kind: 'unsure', title: 'Too early for a final value' });
  expect(soon?.text).toMatch(/about 60 min.*Go on until 120 min after power on/);
  expect(heatFit('heat-run', heat(every(5, 45), 0.05), true)?.text).toMatch(/Repeat it for 120 min or more/);
  expect(heatFit('heat-run', heat(every(5, 90), 0.05), false)).toMatchObject({ kind: 'early' });
});

test('a straight rise has no end at all', () => {
  const line = heat(every(5, 30), 0.05, (hours) => 20 + 10 * hours);
  expect(heatFit('heat-run', line, false)).toMatchObject({ kind: 'none', title: 'No final value yet' });
  expect(heatFit('heat-run', line, true)?.text).toMatch(/Repeat it from cold/);
});

test('a fan that was put on in the middle is not one exponential, whether the doubt of the readings is known or not', () => {
  const broken = (hours: number) => (hours < 1.5 ? 80 - 60 * Math.exp(-hours) : 50 + 17 * Math.exp(3 * (1.5 - hours)));
  for (const u of [0.1, null]) {
    const fit = heatFit(
      'heat-run',
      heat(every(10, 240), u, (hours) => broken(hours)),
      false,
    );
    expect(fit, String(u)).toMatchObject({ kind: 'unsure', title: 'Not one exponential' });
    expect(fit?.text).toMatch(/take its last readings for the end, not the curve/);
    const moving = heatFit('heat-run', heat(every(10, 120), u, broken), false);
    expect(moving?.text).toMatch(/Do not use the final value/);
  }
});

test('other answers are none of its business', () => {
  expect(heatFit('cooling', heat(every(5, 45), 0.05), true)).toBeNull();
  expect(heatFit('heat-run', null, true)).toBeNull();
});
