import type { MeasuredInput } from '../field.ts';

/** One clamp meter on one range read both currents, so its gain is common to both. */
const clamp = (value: number): MeasuredInput => ({
  value,
  u: 0.012,
  shape: 'rectangular',
  shared: { id: 'clamp, 20 A', u: 0.009 * value },
});
const line = (value: number) => ({ volts: { value, u: 0.1 }, hertz: 50 });

/** Twelve primary turns were added; the same tests with the same meters before and after. */
export const example = {
  before: {
    name: 'as found',
    joint: 'as-welded',
    shunts: 'out',
    conditions: line(230.4),
    results: [
      { quantity: 'no-load current', unit: 'A', value: clamp(1.62), voltsExponent: { value: 5, u: 0.5 } },
      { quantity: 'core loss', unit: 'W', value: { value: 41.3, u: 1.4 } },
      { quantity: 'final rise', unit: 'K', value: { value: 71, u: 2.5 }, conditions: { ambientCelsius: 21.5 } },
      { quantity: 'primary resistance at 20 °C', unit: 'Ω', value: { value: 1.843, u: 0.006 }, conditions: {} },
    ],
  },
  after: {
    name: '12 primary turns added',
    joint: 'as-welded',
    shunts: 'out',
    conditions: line(231.1),
    results: [
      { quantity: 'no-load current', unit: 'A', value: clamp(1.01), voltsExponent: { value: 5, u: 0.5 } },
      { quantity: 'core loss', unit: 'W', value: { value: 38.9, u: 1.4 } },
      { quantity: 'final rise', unit: 'K', value: { value: 52, u: 2.5 }, conditions: { ambientCelsius: 23 } },
      { quantity: 'primary resistance at 20 °C', unit: 'Ω', value: { value: 1.951, u: 0.006 }, conditions: {} },
    ],
  },
};
