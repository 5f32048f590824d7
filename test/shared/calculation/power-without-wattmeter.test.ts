import { describe, expect, it } from 'vitest';
import { accept, cautionCodes, refusal } from './ask.ts';

const ask = (method: string, readings: object) => accept('power-without-wattmeter', { method, ...readings });
const tenth = Math.sqrt(10);

describe('power without a wattmeter', () => {
  // 60 W at 120 V and 2 A beside a 60 Ω resistor: the currents stand at a power factor of 0.25.
  const amps = { totalAmps: tenth, resistorAmps: 2, loadAmps: 2, resistorOhms: 60 };

  it('finds the power by three ammeters', () => {
    expect(ask('three-ammeter', { threeAmmeter: amps }).results.watts.value).toBeCloseTo(60, 9);
  });

  it('is good to 8 W with three ammeters of 2 %, and far better with one for all', () => {
    const limit = (value: number) => ({ value, u: (0.02 * value) / Math.sqrt(3), shape: 'rectangular' });
    const gain = (value: number) => ({ value, u: 0, shared: { id: 'clamp', u: (0.02 * value) / Math.sqrt(3) } });
    const three = { ...amps, totalAmps: limit(tenth), resistorAmps: limit(2), loadAmps: limit(2) };
    const one = { ...amps, totalAmps: gain(tenth), resistorAmps: gain(2), loadAmps: gain(2) };
    expect(ask('three-ammeter', { threeAmmeter: three }).results.watts.u).toBeCloseTo(8, 0);
    expect(ask('three-ammeter', { threeAmmeter: one }).results.watts.u).toBeLessThan(1.5);
  });

  it('finds the power by three voltmeters', () => {
    // 100 V and 20 V at a power factor of 0.5: 10 400 + 2000 V².
    const volts = { supplyVolts: Math.sqrt(12_400), resistorVolts: 20, loadVolts: 100, resistorOhms: 10 };
    expect(ask('three-voltmeter', { threeVoltmeter: volts }).results.watts.value).toBeCloseTo(100, 9);
  });

  it('counts energy or flashes over time, and the step of the counter', () => {
    const energy = ask('energy-counter', {
      energyCounter: { kilowattHours: 0.12, stepKilowattHours: 0.01, seconds: 7200 },
    });
    expect(energy.results.watts.value).toBeCloseTo(60, 9);
    // 0.01 kWh in 2 h: 5 W to either side, so about 2 W.
    expect(energy.results.watts.u).toBeCloseTo(5 / Math.sqrt(6), 9);
    const flashes = ask('energy-counter', {
      energyCounter: { flashes: 60, flashesPerKilowattHour: 1000, seconds: 3600 },
    });
    expect(flashes.results.watts.value).toBeCloseTo(60, 9);
  });

  it('takes the heat slope as a cross-check, good to a quarter', () => {
    // 60 W into 5 kg of iron: 1.6 K a minute.
    const answer = ask('heat-slope', { heatSlope: { ironKg: 5, copperKg: 0, kelvin: 60 / 2300, seconds: 1 } });
    expect(answer.results.watts.value).toBeCloseTo(60, 9);
    expect(answer.results.watts.u).toBeCloseTo((60 * 0.25) / Math.sqrt(3), 6);
    expect(cautionCodes(answer)).toEqual(['cross-check']);
  });

  it.each([
    ['three-voltmeter', { threeAmmeter: amps }, 'missing-key', 'threeVoltmeter'],
    ['three-ammeter', { threeAmmeter: { ...amps, totalAmps: 2 } }, 'conflict', 'threeAmmeter.totalAmps'],
    ['energy-counter', { energyCounter: { seconds: 10 } }, 'missing-key', 'energyCounter.kilowattHours'],
    [
      'energy-counter',
      { energyCounter: { seconds: 10, kilowattHours: 1, flashes: 2 } },
      'conflict',
      'energyCounter.flashes',
    ],
    [
      'energy-counter',
      { energyCounter: { seconds: 10, flashes: 2 } },
      'missing-key',
      'energyCounter.flashesPerKilowattHour',
    ],
  ])('refuses by %s from %j', (method, readings, code, path) => {
    expect(refusal('power-without-wattmeter', { method, ...readings })).toMatchObject({ code, path });
  });
});
