import { describe, expect, it } from 'vitest';
import checks from '../fixtures/published/checks.json' with { type: 'json' };
import { accept } from '../shared/calculation/ask.ts';
import { within } from './within.ts';

interface Test {
  readonly V: number;
  readonly I: number;
  readonly P: number;
}
type Side = 'high' | 'low';

const circuit = (open: Test, openSide: Side, short: Test, shortSide: Side, turnsRatio: number, referTo: Side) =>
  accept('equivalent-circuit', {
    openCircuit: { volts: open.V, amps: open.I, watts: open.P, side: openSide },
    shortCircuit: { volts: short.V, amps: short.I, watts: short.P, side: shortSide },
    turnsRatio,
    referTo,
  }).results;

/** Where an example has the short-circuit test only, any open-circuit test will do. */
const anyOpen: Test = { V: 230, I: 1, P: 50 };

// Sources and tolerances stand beside each entry of the published checks.
describe('open-circuit and short-circuit tests, against textbook examples', () => {
  it('OCSC-01 Chapman, Ex. 2-2', () => {
    const { inputs } = checks['OCSC-01'];
    const found = circuit(inputs['OC (HV)'], 'high', inputs['SC (HV)'], 'high', 8000 / 240, 'high');
    // The book's 159 kΩ comes from an angle rounded to 76.5°.
    within(found.coreLossResistance.value, 159_000, 0.007 * 159_000);
    within(found.magnetisingReactance.value, 38_400, 0.007 * 38_400);
    within(found.equivalentResistance.value, 38.4, 0.05);
    within(found.equivalentReactance.value, 192, 0.7);
    within(found.equivalentImpedance.value, 195.6, 0.05);
  });

  it('OCSC-03 Guru and Hiziroglu, Ex. 4.8', () => {
    const { inputs, expected } = checks['OCSC-03'];
    const low = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 20, 'low');
    const high = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 20, 'high');
    within(low.coreLossResistance.value, expected.Rc_L_ohm, 0.005);
    within(low.magnetisingReactance.value, expected.Xm_L_ohm, 0.005);
    within(high.coreLossResistance.value, expected.Rc_H_kohm * 1000, 5);
    within(high.magnetisingReactance.value, expected.Xm_H_kohm * 1000, 6);
    within(high.equivalentResistance.value, expected.Re_H_ohm, 1e-9);
    within(high.equivalentImpedance.value, expected.Ze_H_ohm, 1e-9);
    within(high.equivalentReactance.value, expected.Xe_H_ohm, 0.005);
  });

  it('OCSC-04 Sen, Ex. 2.2', () => {
    const { inputs, expected } = checks['OCSC-04'];
    const low = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 10, 'low');
    const high = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 10, 'high');
    within(low.coreLossResistance.value, expected.Rc_L_ohm, 0.5);
    within(low.magnetisingReactance.value, 89.49, 0.01);
    within(high.equivalentResistance.value, expected.Req_H_ohm, 0.05);
    within(high.equivalentImpedance.value, expected.Zeq_H_ohm, 0.01);
    within(high.equivalentReactance.value, expected.Xeq_H_ohm, 0.05);
    within(low.equivalentResistance.value, expected.Req_L_ohm, 0.0005);
    within(low.equivalentReactance.value, expected.Xeq_L_ohm, 0.0005);
  });

  it('OCSC-06 Nagrath and Kothari, Ex. 3.7', () => {
    const { inputs, expected } = checks['OCSC-06'];
    const low = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 10, 'low');
    const high = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 10, 'high');
    within(1 / low.coreLossResistance.value, expected.Gi_S, 1e-9);
    within(1 / low.magnetisingReactance.value, expected.Bm_S, 0.0001);
    within(high.equivalentImpedance.value, expected.Z_ohm, 1e-9);
    within(high.equivalentResistance.value, expected.R_ohm, 1e-9);
    within(high.equivalentReactance.value, expected.X_ohm, 0.005);
    within(low.equivalentReactance.value, expected.X_LV, 0.0001);
  });

  it('OCSC-07 Kosow, Ex. 14-17', () => {
    const { inputs, expected } = checks['OCSC-07'];
    const high = circuit(anyOpen, 'low', inputs['SC (HV)'], 'high', 10, 'high');
    const low = circuit(anyOpen, 'low', inputs['SC (HV)'], 'high', 10, 'low');
    within(high.equivalentImpedance.value, expected.Ze1, 0.01);
    within(high.equivalentResistance.value, expected.Re1, 0.01);
    within(high.equivalentReactance.value, expected.Xe1, 0.01);
    within(low.equivalentReactance.value * 1000, expected.Xe2_mohm, 0.1);
    const regulation = (powerFactor: number) =>
      accept('load-performance', {
        ratedVolts: 230,
        amps: 87,
        powerFactor,
        sense: 'lagging',
        equivalentResistance: low.equivalentResistance.value,
        equivalentReactance: low.equivalentReactance.value,
        regulationBase: 'loaded',
      }).results.regulationPercent.value;
    within(regulation(1), 1.264, 0.01);
    within(regulation(0.7), 2.145, 0.01);
  });

  it('OCSC-09 Theraja, Ex. 32.54', () => {
    const { inputs, expected } = checks['OCSC-09'];
    const high = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 10, 'high');
    const low = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 10, 'low');
    within(high.equivalentResistance.value, expected.R01_ohm, 0.005);
    within(high.equivalentReactance.value, expected.X01_ohm, 0.005);
    within(low.equivalentReactance.value * 1000, expected.X02_mohm, 0.05);
    const at = (part: number) =>
      accept('load-performance', {
        ratedVolts: 220,
        amps: (part * 20_000) / 220,
        powerFactor: 0.8,
        sense: 'lagging',
        equivalentResistance: low.equivalentResistance.value,
        equivalentReactance: low.equivalentReactance.value,
        coreLossWatts: inputs['OC (LV)'].P,
        regulationBase: 'loaded',
      }).results;
    within(at(1).regulationPercent.value, expected.reg_exact_pct, 0.005);
    // The book scales the copper loss from 10.5 A to 9.09 A.
    within(at(1).efficiencyPercent?.value, expected.eff_FL_pct, 0.01);
    within(at(0.5).efficiencyPercent?.value, 97.38, 0.01);
  });

  it('OCSC-10 Theraja, Ex. 32.44', () => {
    const { inputs, expected } = checks['OCSC-10'];
    const high = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 450 / 120, 'high');
    within(high.coreLossResistance.value, 2531.25, 0.01);
    within(high.magnetisingReactance.value, expected.Xm_HV_ohm, 0.5);
    within(high.equivalentImpedance.value, expected.Z01, 0.0005);
    within(high.equivalentResistance.value, expected.R01, 0.0006);
    within(high.equivalentReactance.value, expected.X01, 0.0005);
    const { regulationPercent, efficiencyPercent } = accept('load-performance', {
      ratedVolts: 450,
      amps: 22.2,
      powerFactor: 0.8,
      sense: 'lagging',
      equivalentResistance: high.equivalentResistance.value,
      equivalentReactance: high.equivalentReactance.value,
      coreLossWatts: 80,
      regulationBase: 'loaded',
    }).results;
    within(regulationPercent.value, 2.031, 0.005);
    within(efficiencyPercent?.value, expected.eff_FL, 0.005);
  });

  it('OCSC-11 Theraja, Ex. 32.36', () => {
    const { inputs, expected } = checks['OCSC-11'];
    const open = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 2, 'low');
    const short = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 2, 'high');
    within(open.coreLossResistance.value, expected.R0_ohm, 0.05);
    within(open.magnetisingReactance.value, expected.X0_ohm, 0.5);
    within(short.equivalentResistance.value, expected.R02, 1e-9);
    within(short.equivalentImpedance.value, expected.Z02, 1e-9);
    within(short.equivalentReactance.value, expected.X02, 0.0005);
    // The book finds 377.8 V at 5 kW and 0.8 lagging from 400 V by the first-order drop: with those volts held at the
    // load the exact source is back at 400 V.
    const { sourceVolts } = accept('load-performance', {
      ratedVolts: expected.V2_V,
      amps: 5000 / 0.8 / 400,
      powerFactor: 0.8,
      sense: 'lagging',
      equivalentResistance: short.equivalentResistance.value,
      equivalentReactance: short.equivalentReactance.value,
    }).results;
    within(sourceVolts.value, 400, 0.1);
  });

  it('OCSC-12 Kulshreshtha, Ex. 13.16', () => {
    const { inputs, expected } = checks['OCSC-12'];
    const low = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 2, 'low');
    within(200 / low.coreLossResistance.value, expected.Iw_A, 1e-9);
    within(200 / low.magnetisingReactance.value, expected.Im_A, 0.005);
    within(low.equivalentResistance.value, expected.Re_LV_ohm, 0.0001);
    within(low.equivalentReactance.value, expected.Xe_LV_ohm, 0.0001);
  });

  it('OCSC-13 Del Toro, Ex. 16-2 and 16-3', () => {
    const { inputs, expected } = checks['OCSC-13'];
    const high = circuit(inputs['OC (LV)'], 'low', inputs['SC (HV)'], 'high', 20, 'high');
    within(high.equivalentImpedance.value, expected.Ze_H, 0.01);
    within(high.equivalentResistance.value, expected.Re_H, 0.01);
    within(high.equivalentReactance.value, 4.007, 0.01);
    const { efficiencyPercent } = accept('load-performance', {
      ratedVolts: 2400,
      amps: 50_000 / 2400,
      powerFactor: 0.8,
      sense: 'lagging',
      equivalentResistance: high.equivalentResistance.value,
      equivalentReactance: high.equivalentReactance.value,
      coreLossWatts: 396,
    }).results;
    within(efficiencyPercent?.value, 97.07, 0.01);
  });

  it('OCSC-15 10 kVA, 500 V to 250 V', () => {
    const { inputs, expected } = checks['OCSC-15'];
    const high = circuit(inputs['OC (HV)'], 'high', inputs['SC (HV)'], 'high', 2, 'high');
    within(high.coreLossResistance.value, expected.Rc, 1e-6);
    within(high.magnetisingReactance.value, expected.Xm, 0.005);
    within(high.equivalentResistance.value, expected.Re1, 1e-9);
    within(high.equivalentImpedance.value, expected.Ze1, 1e-9);
    within(high.equivalentReactance.value, expected.Xe1, 0.0001);
    const { efficiencyPercent } = accept('load-performance', {
      ratedVolts: 500,
      amps: 20,
      powerFactor: 0.8,
      sense: 'lagging',
      equivalentResistance: high.equivalentResistance.value,
      equivalentReactance: high.equivalentReactance.value,
      coreLossWatts: 100,
    }).results;
    within(efficiencyPercent?.value, expected.eff_pct, 0.005);
  });
});

describe('regulation and efficiency, against textbook examples', () => {
  it('OCSC-05 Sen, Ex. 2.3 and 2.4', () => {
    const { inputs } = checks['OCSC-05'];
    const at = (part: number, powerFactor: number, sense: 'lagging' | 'leading') =>
      accept('load-performance', {
        ratedVolts: 2200,
        amps: part * 4.55,
        powerFactor,
        sense,
        equivalentResistance: inputs.Req_H,
        equivalentReactance: inputs.Xeq_H,
        coreLossWatts: inputs.P_core_W,
        regulationBase: 'loaded',
      }).results;
    within(at(0.75, 0.6, 'lagging').regulationPercent.value, 4.8645, 0.005);
    within(at(0.75, 0.6, 'leading').regulationPercent.value, -2.8252, 0.005);
    within(at(0.75, 0.6, 'lagging').efficiencyPercent?.value, 95.32, 0.02);
    const best = at(1, 1, 'lagging').loadForBestEfficiency?.value ?? NaN;
    within(best, 0.68, 0.005);
    within(at(best, 1, 'lagging').efficiencyPercent?.value, 97.15, 0.02);
    expect(at(1, 1, 'lagging').copperLoss.value).toBeCloseTo(215, 0);
  });
});

describe('iron loss by frequency, against textbook examples', () => {
  // Kulshreshtha, Basic Electrical Engineering, Ex. 13.8 p. 382: 100 W at 60 Hz, 60 W at 40 Hz.
  it('EMF-11 Kulshreshtha, Ex. 13.8', () => {
    const points = [
      { hertz: 60, watts: 100 },
      { hertz: 40, watts: 60 },
    ];
    const { hysteresisAtHertz, eddyAtHertz } = accept('iron-loss-split', { points, atHertz: 50 }).results;
    within(hysteresisAtHertz?.value, 58.33, 0.01);
    within(eddyAtHertz?.value, 20.83, 0.01);
  });

  // Theraja, A Textbook of Electrical Technology, Ex. 32.31 p. 1148: 2500 W at 440 V, 50 Hz; 850 W at 220 V, 25 Hz.
  it('EMF-12 Theraja, Ex. 32.31', () => {
    const points = [
      { hertz: 50, watts: 2500, volts: 440 },
      { hertz: 25, watts: 850, volts: 220 },
    ];
    const { hysteresis, eddy } = accept('iron-loss-split', { points }).results;
    within(hysteresis[0]?.value, 900, 1e-6);
    within(eddy[0]?.value, 1600, 1e-6);
  });
});
