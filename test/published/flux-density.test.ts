import { describe, expect, it } from 'vitest';
import { emfConstant } from '../../src-shared/calculation/flux-density.ts';
import { accept } from '../shared/calculation/ask.ts';
import { within } from './within.ts';

// Books compute with 4.44 for the constant; the exact one is 0.065 % larger. Tolerances are the books' last digit.
const booksConstant = 4.44;

const tesla = (volts: number, hertz: number, turns: number, ironAreaMm2: number) =>
  accept('flux-density', { volts, hertz, turns, ironAreaMm2 }).results.peakFluxDensity.value;
/** Flux in Wb: flux density in an iron of one square metre. */
const weber = (volts: number, hertz: number, turns: number) => tesla(volts, hertz, turns, 1e6);
/** Volts on a winding of `turns` beside one of `fedTurns` at `feedVolts`. */
const volts = (feedVolts: number, fedTurns: number, turns: number) =>
  accept('winding-volts', {
    windings: [
      { name: 'fed', role: 'primary', turns: fedTurns },
      { name: 'other', role: 'secondary', turns },
    ],
    fedIndex: 0,
    feedVolts,
  }).results.windings[1]?.volts?.value;

describe('e.m.f. equation', () => {
  it('EMF-00: has the exact constant', () => {
    within(emfConstant, 4.442882938, 1e-9);
    within(emfConstant / booksConstant - 1, 0.00065, 0.00001);
  });

  // Theraja, A Textbook of Electrical Technology, ex. 32.3.
  it('EMF-02: 400 turns at 520 V, 50 Hz, on 60 cm²', () => {
    within(tesla(520, 50, 400, 6000), 0.976, 0.001);
    within(volts(520, 400, 1000), 1300, 1e-9);
  });

  // Theraja, ex. 32.4.
  it('EMF-03: 500 turns at 3000 V, 50 Hz', () => {
    within(1000 * weber(3000, 50, 500), 27, 0.1);
    within(volts(3000, 500, 50), 300, 1e-9);
  });

  // Kulshreshtha, Basic Electrical Engineering, ex. 13.2.
  it('EMF-04: 30 turns at 230 V, 50 Hz, on 250 cm²', () => {
    within(tesla(230, 50, 30, 25_000), 1.38, 0.005);
    within(volts(230, 30, 350), 2683.3, 0.05);
  });

  // Kulshreshtha, ex. 13.6: turns of 230, 110 and 6 V on 9 cm² at 1 T.
  it.each([
    [230, 1151],
    [110, 550],
    [6, 30],
  ])('EMF-05: %d V takes %d turns', (each, published) => {
    const { turnsForTarget } = accept('flux-density', {
      volts: each,
      hertz: 50,
      turns: 100,
      ironAreaMm2: 900,
      targetTesla: 1,
    }).results;
    within(turnsForTarget?.value, published, 1);
  });

  // Guru & Hiziroglu, Electric Machinery and Transformers, ex. 4.2.
  it('EMF-06: 150 turns at 240 V, 50 Hz', () => {
    within(1000 * weber(240, 50, 150), 7.21, 0.01);
    within(volts(240, 150, 750), 1200, 1e-9);
  });

  // Bhattacharya, Electrical Machines, ex. 3.3.
  it('EMF-07: 100 turns at 230 V, 50 Hz, on 250 cm²', () => {
    within(tesla(230, 50, 100, 25_000), 0.414, 0.001);
    within(volts(230, 100, 400), 920, 1e-9);
  });

  // Fitzgerald, Kingsley & Umans, Electric Machinery, 6th ed., ex. 1.8: 200 turns on 4 in² x 0.94 at 60 Hz.
  // The book rounds inches per metre to 39.4, so 0.5 %.
  it('EMF-08: 194 V make 1.5 T', () => {
    const { peakFluxDensity } = accept('flux-density', {
      volts: 194,
      hertz: 60,
      turns: 200,
      tongueMm: 50.8,
      stackMm: 50.8,
      stackingFactor: 0.94,
    }).results;
    within(peakFluxDensity.value, 1.5, 0.005 * 1.5);
  });
});

describe('turns ratio', () => {
  // OpenStax, University Physics, vol. 2, section 15.6. The book goes on with the rounded ratio 12 and prints 0.042 A;
  // unrounded it is 12.22 and 0.0409 A.
  it('EMF-13: 110 V to 9.0 V', () => {
    const ratio = 110 / 9;
    within(ratio, 12, 0.5);
    within(volts(110, ratio * 100, 100), 9, 1e-9);
    within(0.5 / ratio, 0.042, 0.0015);
  });

  // OpenStax, University Physics, vol. 2, section 15.6, example on a step-down transformer.
  it('EMF-14: 12 000 V to 240 V is 50 to 1', () => {
    within(volts(12_000, 50, 1), 240, 1e-9);
  });

  it('SAFE-02: never lets the bound pass 50 V a.c.', () => {
    // IEC 60364-4-41 (414): extra-low voltage up to 50 V a.c.; 25 V a.c. is the relief for touch in dry places.
    const at = (boundVolts: number) =>
      accept('winding-volts', {
        windings: [{ name: 'fed', role: 'primary', turns: 100 }],
        fedIndex: 0,
        feedVolts: 1,
        boundVolts,
      }).results.highestFeedVolts.value;
    expect(at(50)).toBe(50);
    expect(at(25)).toBe(25);
    expect(() => at(50.1)).toThrow('too-large');
  });
});
