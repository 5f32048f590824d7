import fc from 'fast-check';
import { evaluate, unit, type Unit } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { conductors, metals } from '../../src-shared/calculation/conductor.ts';
import { convert, units, type UnitSymbol } from '../../src-shared/quantity/unit.ts';
import { accept } from '../shared/calculation/ask.ts';
import { close } from './close.ts';

/** How the library writes each of our units. A difference in degrees Fahrenheit is one in degrees Rankine. */
const written: Readonly<Record<UnitSymbol, string>> = {
  mm: 'mm',
  cm: 'cm',
  in: 'inch',
  mil: 'mil',
  m: 'm',
  ft: 'ft',
  kg: 'kg',
  g: 'g',
  lb: 'lbm',
  oz: 'oz',
  '°C': 'degC',
  '°F': 'degF',
  K: 'K',
  'F°': 'degR',
  'mm²': 'mm^2',
  'cm²': 'cm^2',
  'in²': 'in^2',
  cmil: 'mil^2',
  'Ω/km': 'ohm / km',
  'Ω/1000 ft': 'ohm / ft',
  'kg/km': 'kg / km',
  'lb/1000 ft': 'lbm / ft',
  'A/mm²': 'A / mm^2',
  'A/in²': 'A / in^2',
  V: 'V',
  mV: 'mV',
  kV: 'kV',
  A: 'A',
  mA: 'mA',
  Ω: 'ohm',
  mΩ: 'milliohm',
  kΩ: 'kiloohm',
  MΩ: 'megaohm',
  W: 'W',
  kW: 'kW',
  VA: 'VA',
  kVA: 'kVA',
  kWh: 'kWh',
  Wh: 'Wh',
  s: 's',
  min: 'minute',
  h: 'hour',
  T: 'T',
  mT: 'mT',
};

/** What our unit is of the one that the library can write: the area of a circle of one mil, and a thousand feet. */
const times: Partial<Record<UnitSymbol, number>> = {
  cmil: Math.PI / 4,
  'Ω/1000 ft': 1e-3,
  'lb/1000 ft': 1e-3,
};

const symbols = Object.keys(units) as UnitSymbol[];
const pairs = symbols.flatMap((from) =>
  symbols.flatMap((to) => (units[from].kind === units[to].kind ? [[from, to] as const] : [])),
);

const byLibrary = (value: number, from: UnitSymbol, to: UnitSymbol) =>
  unit(value * (times[from] ?? 1), written[from]).toNumber(written[to]) / (times[to] ?? 1);

describe('units, as mathjs has them', () => {
  it.each(pairs)('gives %s in %s', (from, to) => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
        const ours = convert(value, from, to) ?? NaN;
        // A temperature near its zero is a small difference of two large numbers.
        expect(Math.abs(ours - byLibrary(value, from, to))).toBeLessThanOrEqual(1e-11 * (Math.abs(ours) + 1000));
      }),
      { seed: 20260601, numRuns: 25 },
    );
  });

  it.each(metals)('gives the resistance of a kilometre of %s, units and all', (metal) => {
    for (const diameterMm of [0.2, 1, 2.5]) {
      const { ohmsPerKm, kgPerKm } = accept('wire', { diameterMm, metal }).results;
      const { resistivity20, density } = conductors[metal];
      const area = `(pi / 4 * (${diameterMm} mm)^2)`;
      close(ohmsPerKm.value, number(`${resistivity20} ohm mm^2 / m * 1 km / ${area}`, 'ohm'));
      close(kgPerKm.value, number(`${density} kg / dm^3 * ${area} * 1 km`, 'kg'));
    }
  });

  it('gives four-wire ohms from millivolts and amps, and the same at 20 °C', () => {
    const { ohms, ohmsAt20 } = accept('four-wire-resistance', {
      amps: 1.25,
      volts: 0.0183,
      voltsReversed: -0.0181,
      celsius: 31,
      metal: 'copper',
    }).results;
    close(ohms.value * 1000, number('(18.3 mV + 18.1 mV) / (2 * 1250 mA)', 'mohm'));
    close(ohmsAt20.value * 1000, number('(18.3 mV + 18.1 mV) / (2.5 A) * (234.5 + 20) / (234.5 + 31)', 'mohm'));
  });

  it('gives the energy of a counter as power, and the warmth of iron and copper as loss', () => {
    const counted = accept('power-without-wattmeter', {
      method: 'energy-counter',
      energyCounter: { kilowattHours: 0.13, seconds: 5400 },
    });
    close(counted.results.watts.value, number('0.13 kWh / (1.5 hour)', 'W'));
    const warmed = accept('power-without-wattmeter', {
      method: 'heat-slope',
      heatSlope: { ironKg: 4.2, copperKg: 0.8, kelvin: 3, seconds: 120 },
    });
    const heat = '(4.2 kg * 460 J/(kg K) + 0.8 kg * 385 J/(kg K)) * 3 K / (2 minute)';
    close(warmed.results.watts.value, number(heat, 'W'));
  });

  it('gives the bar of a joint, and the flux of a core', () => {
    const { gapMm } = accept('joint-gap', { turns: 120, addedAmps: 0.5, peakTesla: 1.5 }).results;
    const mu0 = `(4e-7 * pi) N / A^2`;
    close(gapMm.value, number(`${mu0} * 120 * 0.5 A * sqrt(2) / (1.5 T)`, 'mm'));
    const { peakFluxDensity } = accept('flux-density', {
      volts: 120,
      hertz: 60,
      turns: 118,
      ironAreaMm2: 2100,
    }).results;
    const tesla = number('120 V * sqrt(2) / (2 * pi * 60 Hz * 118 * 2100 mm^2)', 'T');
    close(peakFluxDensity.value, tesla);
  });
});

/** The value of an expression in a unit; an expression of another kind of quantity throws. */
function number(expression: string, inUnit: string): number {
  const found: unknown = evaluate(expression);
  return (found as Unit).toNumber(inUnit);
}
