import type { UnitSystem } from '../../../../src-shared/quantity/unit.ts';
import type { Answered } from '../working-form.svelte.ts';
import { excitationPlot, ironLossPlot, loadedRunPlot, testCoilPlot } from './bench-plots.ts';
import { coolingPlot, heatRunPlot } from './heating.ts';
import type { Plot } from './plot.ts';

type Drawn = (input: unknown, answer: Answered, system: UnitSystem) => Plot | null;

/** What a person would rather see than read, by calculation. */
const plots: Readonly<Record<string, Drawn>> = {
  'test-coil': testCoilPlot,
  'loaded-run': loadedRunPlot,
  excitation: excitationPlot,
  'heat-run': heatRunPlot,
  cooling: coolingPlot,
  'iron-loss-split': ironLossPlot,
};

/** The picture of an answer; null where there is none. */
export const plotOf = (name: string, input: unknown, answer: Answered, system: UnitSystem): Plot | null =>
  plots[name]?.(input, answer, system) ?? null;
