import { describe, expect, test } from 'vitest';
import { noFaults } from '../../../src-shared/practice/fault-effect.ts';
import { after, observe, type Observed, type PracticeBench } from '../../../src-shared/practice/observed.ts';
import { lampOhms } from '../../../src-shared/practice/lamp.ts';
import { shownBy } from '../../../src-shared/practice/wave.ts';
import checks from '../../fixtures/published/checks.json' with { type: 'json' };
import { accept } from '../calculation/ask.ts';
import { scrapTransformer, stiffBench, straightIron } from './given.ts';

function at(bench: PracticeBench): Observed {
  const observed = observe(bench);
  if (observed === null) throw new Error('The fed winding is on the bench.');
  return observed;
}
const volts = (observed: Observed, id: string): number => observed.volts[id]?.rms ?? Number.NaN;
const near = (value: number, expected: number, share = 1e-3) => {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(share * Math.abs(expected));
};
const withTestCoil = (bench: PracticeBench, turns: number): PracticeBench => ({
  ...bench,
  transformer: {
    ...bench.transformer,
    windings: [
      ...bench.transformer.windings,
      {
        id: 'coil',
        label: 'Test coil',
        role: 'test-coil',
        turns,
        metal: 'copper',
        ohms20: 0.05,
        henries: 0,
        endOnCore: false,
      },
    ],
  },
});

describe('a textbook transformer, set to its published figures', () => {
  // Sen, Principles of Electric Machines and Power Electronics, 2nd ed., Ex. 2.2: 10 kVA, 2200/220 V, 60 Hz.
  const { inputs } = checks['OCSC-04'];
  const open = inputs['OC (LV)'];
  const short = inputs['SC (HV)'];
  const [lowTurns, highTurns] = [100, 1000];
  const angular = 2 * Math.PI * 60;
  const lossOhms = open.V ** 2 / open.P;
  const magnetisingAmps = Math.sqrt(open.I ** 2 - (open.V / lossOhms) ** 2);
  const { areaM2, pathM } = straightIron(1, 0);
  // Reluctance and loss of the iron that give the open-circuit test, all of it seen from the low side.
  const reluctance = (angular * lowTurns ** 2 * magnetisingAmps) / open.V;
  const iron = straightIron((reluctance * areaM2) / pathM, (lowTurns ** 2 * areaM2) / (lossOhms * pathM));
  const shortOhms = short.P / short.I ** 2;
  const shortHenries = Math.sqrt((short.V / short.I) ** 2 - shortOhms ** 2) / angular;
  const winding = { metal: 'copper', endOnCore: false, role: 'primary' } as const;
  const bench = (fedWindingId: string, supplyVolts: number, loads: Record<string, number>): PracticeBench => ({
    ...stiffBench,
    transformer: {
      ...scrapTransformer,
      iron,
      windings: [
        { ...winding, id: 'high', label: '2200 V', turns: highTurns, ohms20: shortOhms / 2, henries: shortHenries / 2 },
        {
          ...winding,
          id: 'low',
          label: '220 V',
          turns: lowTurns,
          ohms20: shortOhms / 200,
          henries: shortHenries / 200,
        },
      ],
    },
    supply: { volts: supplyVolts, hertz: 60, ohms: 0, henries: 0, lamp: null, isolated: false },
    fedWindingId,
    loads,
    // A book has no lugs.
    faults: { ...noFaults, lugOhms: 0 },
  });

  test('reads as its open-circuit test', () => {
    const observed = at(bench('low', open.V, {}));
    near(observed.lineAmps.rms, open.I, 0.005);
    near(observed.watts, open.P, 0.005);
    near(volts(observed, 'high'), 2200, 0.005);
  });

  test('reads as its short-circuit test, and both give the published circuit', () => {
    const observed = at(bench('high', short.V, { low: 0 }));
    near(observed.lineAmps.rms, short.I, 0.005);
    near(observed.watts, short.P, 0.005);
    const opened = at(bench('low', open.V, {}));
    const { results } = accept('equivalent-circuit', {
      openCircuit: { volts: open.V, amps: opened.lineAmps.rms, watts: opened.watts, side: 'low' },
      shortCircuit: { volts: short.V, amps: observed.lineAmps.rms, watts: observed.watts, side: 'high' },
      turnsRatio: 10,
      referTo: 'high',
    });
    near(results.equivalentResistance.value, 10.4, 0.01);
    near(results.equivalentReactance.value, 31.3, 0.01);
  });
});

describe('the hidden truth, as the bench shows it', () => {
  test('a test coil at low volts finds the primary, and a half turn makes it wrong', () => {
    const low = { ...stiffBench, supply: { ...stiffBench.supply, volts: 24, isolated: true } };
    const found = (turns: number) => {
      const observed = at(withTestCoil(low, turns));
      return accept('test-coil', {
        readings: [{ coilTurns: 10, coilVolts: volts(observed, 'coil'), primaryVolts: volts(observed, 'primary') }],
      }).results.primaryTurns.value;
    };
    near(found(10), 320, 0.003);
    near(found(10.5), (320 * 10) / 10.5, 0.003);
  });

  test('every winding stands at its turns times the volts of a turn', () => {
    const observed = at(stiffBench);
    near(volts(observed, 'high') / volts(observed, 'heater'), 2400 / 14);
    expect(volts(observed, 'high')).toBeGreaterThan(1700);
  });

  test('more turns in series take current and heat out, and joined the wrong way round they add both', () => {
    const turns = { turns: 30, ohms20: 0.1, opposed: false };
    const [plain, more, wrong] = [
      at(stiffBench),
      at({ ...stiffBench, added: turns }),
      at({ ...stiffBench, added: { ...turns, opposed: true } }),
    ];
    expect(more.lineAmps.rms).toBeLessThan(0.7 * plain.lineAmps.rms);
    expect(more.coreHeat).toBeLessThan(plain.coreHeat);
    expect(wrong.lineAmps.rms).toBeGreaterThan(2 * plain.lineAmps.rms);
    near(volts(more, 'heater') / volts(plain, 'heater'), 320 / 350, 0.005);
  });

  test('a shorted turn shows as loss that the iron does not make', () => {
    const shorted = at({ ...stiffBench, faults: { ...stiffBench.faults, shortedTurnOhms: 2e-3 } });
    expect(shorted.windingHeat).toBeGreaterThan(at(stiffBench).windingHeat + 200);
    near(shorted.watts, shorted.windingHeat + shorted.coreHeat, 2e-3);
  });

  test('a remade joint takes more current at the same volts and flux, and no more loss in the iron', () => {
    const { transformer } = stiffBench;
    const wide = at({ ...stiffBench, transformer: { ...transformer, iron: { ...transformer.iron, gapM: 1.5e-4 } } });
    const plain = at(stiffBench);
    expect(wide.lineAmps.rms).toBeGreaterThan(1.2 * plain.lineAmps.rms);
    near(wide.peakTesla, plain.peakTesla, 0.01);
    near(wide.coreHeat, plain.coreHeat, 0.02);
  });

  test('shunts let a load pull the volts down', () => {
    const loads = { heater: 0.1 };
    const sag = (shuntFactor: number) =>
      volts(at({ ...stiffBench, loads, transformer: { ...scrapTransformer, shuntFactor } }), 'heater');
    expect(sag(20)).toBeLessThan(0.97 * sag(1));
  });

  test('a coil beside the fed winding sees the flux of the shunts, one beyond them does not', () => {
    const bench = (coilBeyondShunts: boolean) => {
      const { transformer } = withTestCoil(stiffBench, 10);
      return at({ ...stiffBench, transformer: { ...transformer, shuntFactor: 30, coilBeyondShunts } });
    };
    const ratio = (observed: Observed) => volts(observed, 'primary') / volts(observed, 'coil');
    near(ratio(bench(false)), 32, 0.005);
    expect(ratio(bench(true))).toBeGreaterThan(1.02 * 32);
  });

  test('two strands against each other draw as a loop of twice the turns and four times the ohms, and give no volts', () => {
    const low = { ...stiffBench, supply: { ...stiffBench.supply, volts: 12 } };
    const against = at({ ...low, faults: { ...noFaults, strandsOpposed: true }, loads: { heater: 0.5 } });
    expect(volts(against, 'heater')).toBe(0);
    expect(against.loadAmps).toEqual({});
    // By hand: the loop seen from the primary is 4 x 0.02 Ω x (320 / 28)², beside 1.3 Ω of the primary and 0.05 of the source.
    near(against.lineAmps.rms, 12 / (4 * 0.02 * (320 / 28) ** 2 + 1.35), 0.02);
    near(against.watts, against.windingHeat + against.coreHeat, 2e-3);
  });

  test('what a lug and a joint in the feed take is heat outside the windings, and the balance holds', () => {
    const faults = { ...noFaults, lugOhms: 0.03, feedJointOhms: 2 };
    const loads = { heater: 0.4 };
    const loose = at({ ...stiffBench, faults, loads });
    const load = (loose.loadAmps['heater']?.rms ?? 0) ** 2 * 0.4;
    near(loose.watts, loose.windingHeat + loose.coreHeat + loose.jointHeat + load, 2e-3);
    near(loose.jointHeat, (loose.loadAmps['heater']?.rms ?? 0) ** 2 * 0.03 + loose.lineAmps.rms ** 2 * 2, 1e-9);
    expect(volts(loose, 'heater')).toBeLessThan(volts(at({ ...stiffBench, loads }), 'heater'));
  });

  test('an open earth lets the core stand at what a winding joined to it makes', () => {
    expect(at(stiffBench).coreVolts).toBe(0);
    const open = at({ ...stiffBench, faults: { ...stiffBench.faults, earthOpen: true } });
    expect(open.coreVolts).toBe(volts(open, 'high'));
  });

  test('nothing is on the bench without power', () => {
    const off = at({ ...stiffBench, isOn: false });
    expect(off.lineAmps.rms).toBe(0);
    expect(Object.values(off.volts).map(({ rms }) => rms)).toEqual([0, 0, 0]);
    expect(observe({ ...stiffBench, fedWindingId: 'not there' })).toBeNull();
  });
});

describe('a lamp in series', () => {
  const lamp = { watts: 60, volts: 230 };
  const through = (bench: PracticeBench) => at({ ...bench, supply: { ...bench.supply, lamp } });

  test('carries its rated current at its rated volts, and is a thirteenth when cold', () => {
    near(lampOhms(lamp, 60 / 230), 230 ** 2 / 60, 1e-9);
    near(lampOhms(lamp, 0), 230 ** 2 / 60 / 13, 1e-9);
  });

  test('stays dim with a sound core and takes the volts with a shorted winding', () => {
    const sound = through(stiffBench);
    const shorted = through({ ...stiffBench, loads: { heater: 0 } });
    expect(volts(sound, 'primary')).toBeGreaterThan(150);
    expect(volts(shorted, 'primary')).toBeLessThan(40);
    near(shorted.lineAmps.rms, lamp.watts / lamp.volts, 0.05);
  });
});

describe('meters and heat', () => {
  test('a saturated current is peaky: the kinds of meter disagree on it, and agree on the volts', () => {
    const { lineAmps, volts: all } = at({ ...stiffBench, supply: { ...stiffBench.supply, volts: 265 } });
    expect(lineAmps.peak).toBeGreaterThan(2 * lineAmps.rms);
    const [average, trueRms] = [{ responding: 'average' } as const, { responding: 'true-rms' } as const];
    expect(shownBy(average, lineAmps)).toBeLessThan(0.9 * shownBy(trueRms, lineAmps));
    const primary = all['primary'];
    if (primary === undefined) throw new Error('The primary is on the bench.');
    near(shownBy(average, primary), shownBy(trueRms, primary), 0.01);
    // Each true-rms meter follows crests up to its own factor: one of 2 falls behind here, one of 5 does not.
    expect(shownBy({ ...trueRms, crestFactor: 5 }, lineAmps)).toBe(lineAmps.rms);
    expect(shownBy({ ...trueRms, crestFactor: 2 }, lineAmps)).toBeLessThan(lineAmps.rms);
  });

  test('an average-responding meter tells the flux, whatever the wave: 4 f N Φ by the mean, 1.1107 times it shown', () => {
    // Faraday's law over half a period, by hand: the flux goes from -Φ to Φ in 1 / 2f, whatever its wave.
    const turns = 14;
    const hard = withTestCoil({ ...stiffBench, supply: { ...stiffBench.supply, volts: 265, ohms: 20 } }, turns);
    const { volts: all, peakTesla } = at(hard);
    const wave = all['coil'];
    if (wave === undefined) throw new Error('The test coil is on the bench.');
    const mean = 4 * hard.supply.hertz * turns * peakTesla * scrapTransformer.iron.areaM2;
    near(shownBy({ responding: 'average' }, wave), (mean * Math.PI) / (2 * Math.SQRT2), 2e-3);
    // The wave is no sine: the effective value is another one.
    expect(Math.abs(wave.rms / wave.averageResponding - 1)).toBeGreaterThan(0.01);
  });

  test('heat raises the windings, and their resistance with them', () => {
    let bench: PracticeBench = { ...stiffBench, supply: { ...stiffBench.supply, volts: 250 } };
    const cold = at(bench);
    for (let minute = 0; minute < 120; minute += 1) bench = after(bench, at(bench), 60);
    expect(bench.temperatures.winding).toBeGreaterThan(24);
    expect(bench.temperatures.core).toBeGreaterThan(24);
    const primary = scrapTransformer.windings[0];
    if (primary === undefined) throw new Error('The primary is on the bench.');
    expect(at(bench).windingHeat / at(bench).lineAmps.rms ** 2).toBeGreaterThan(
      cold.windingHeat / cold.lineAmps.rms ** 2,
    );
  });
});
