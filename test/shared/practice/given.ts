import type { PracticeBench } from '../../../src-shared/practice/observed.ts';
import { noFaults } from '../../../src-shared/practice/fault-effect.ts';
import type { Iron } from '../../../src-shared/practice/iron.ts';
import type { PracticeTransformer } from '../../../src-shared/practice/windings.ts';

/** Sheets of a scrap core, invented: near its knee at 1.5 T. */
export const scrapIron: Iron = {
  areaM2: 1.976e-3,
  pathM: 0.24,
  gapM: 3e-5,
  linear: 80,
  saturating: 1.46,
  exponent: 15,
  hysteresis: 60,
  steinmetz: 1.8,
  eddy: 0.03,
};

/** Iron that holds its flux in proportion and loses by eddies only: for circuits with an exact answer. */
export const straightIron = (perTesla: number, eddy: number): Iron => ({
  ...scrapIron,
  gapM: 0,
  linear: perTesla,
  saturating: 0,
  hysteresis: 0,
  eddy,
});

/** A 230 V scrap transformer, invented: 320 turns, a 14-turn heater winding and a 2,400-turn one with an end on the core. */
export const scrapTransformer: PracticeTransformer = {
  iron: scrapIron,
  windings: [
    {
      id: 'primary',
      label: 'Primary',
      role: 'primary',
      turns: 320,
      metal: 'aluminium',
      ohms20: 1.3,
      henries: 2.4e-3,
      endOnCore: false,
    },
    {
      id: 'heater',
      label: 'Heater',
      role: 'secondary',
      turns: 14,
      metal: 'copper',
      ohms20: 0.02,
      henries: 5e-6,
      endOnCore: false,
    },
    {
      id: 'high',
      label: 'High-voltage winding',
      role: 'other',
      turns: 2400,
      metal: 'copper',
      ohms20: 140,
      henries: 0.15,
      endOnCore: true,
    },
  ],
  heating: { windingCapacity: 900, coreCapacity: 2100, windingToRoom: 0.5, coreToRoom: 1.1, between: 1.6 },
  shuntFactor: 1,
  coilBeyondShunts: false,
};

/** A bench with a stiff supply, powered, everything open but the feed. */
export const stiffBench: PracticeBench = {
  transformer: scrapTransformer,
  supply: { volts: 230, hertz: 50, ohms: 0.05, henries: 0, lamp: null, isolated: false },
  isOn: true,
  fedWindingId: 'primary',
  added: null,
  loads: {},
  faults: noFaults,
  temperatures: { winding: 20, core: 20 },
  roomCelsius: 20,
};
