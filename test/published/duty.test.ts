import { describe, expect, it } from 'vitest';
import { accept } from '../shared/calculation/ask.ts';
import { within } from './within.ts';

const minute = 60;
const hour = 3600;

describe('duty, against textbook examples', () => {
  // Theraja, A Textbook of Electrical Technology, vol. III, Ex. 45.11 p. 1808; the peak of the cycle repeated for ever is
  // our own arithmetic.
  it('HR-04 Theraja, Ex. 45.11', () => {
    const { riseAfterFirstCycle, peakRiseRepeating } = accept('duty', {
      finalRise: 100,
      timeConstant: hour,
      coolingTimeConstant: 2 * hour,
      limitRise: 90,
      onSeconds: 30 * minute,
      offSeconds: 12 * minute,
    }).results;
    within(riseAfterFirstCycle?.value, 35.6, 0.01);
    within(peakRiseRepeating?.value, 87.207, 0.001);
  });

  // Theraja, vol. III, Ex. 45.9 p. 1807 (75.13 kW for 30 min from 40 kW) and Ex. 45.10 p. 1807 (about 24 hp for 1 h from
  // 15 hp): with the loss in proportion to the load squared, that load reaches the continuous rise just then.
  it.each([
    ['HR-05 ', 75.13, 40, 90 * minute, 30 * minute, 1],
    ['HR-06 ', 23.91, 15, 2 * hour, hour, 5],
  ])('%sshort-time rating', (_, short, continuous, timeConstant, seconds, tolerance) => {
    const { longestOnFromCold } = accept('duty', {
      finalRise: 60 * (short / continuous) ** 2,
      timeConstant,
      limitRise: 60,
    }).results;
    within(longestOnFromCold?.value, seconds, tolerance);
  });

  // IEC 60949, adiabatic form, from memory: copper at 20 °C warms by 0.5 K/s at 10 A/mm² and by 2 K/s at 20 A/mm².
  it.each([
    [10, 0.5],
    [20, 2],
  ])('%d A/mm² in copper warms by %d K/s', (currentDensity, rate) => {
    const input = { finalRise: 1000, timeConstant: hour, limitRise: 10, currentDensity, metal: 'copper' };
    within(10 / (accept('duty', input).results.adiabaticSeconds?.value ?? NaN), rate, 0.01 * rate);
  });
});

describe('cooling back to switch-off', () => {
  // No published numbers were found for this: constructed data on the model of IEC 60076-2:2011.
  it('HR-08 constructed cooling curve', () => {
    const points = [20, 40, 80, 140, 220, 320].map((seconds) => ({
      seconds,
      celsius: 60 + 40 * Math.exp(-seconds / 120),
    }));
    const { atSwitchOff, timeConstant } = accept('cooling', { points }).results;
    within(atSwitchOff.value, 100, 1e-6);
    within(timeConstant.value, 120, 1e-4);
    expect(atSwitchOff.unit).toBe('°C');
  });
});
