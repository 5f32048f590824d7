import type { CoreFacts } from '../../../src-shared/ranking/core-facts.ts';
import { demandOf, type Demand } from '../../../src-shared/ranking/demand.ts';
import type { UnitSystem } from '../../../src-shared/quantity/unit.ts';
import type { NeedFields } from '../../../src-shared/record/need.ts';

/** The 24 V supply of the foam cutters, invented. */
const cutters: NeedFields = {
  label: 'Foam cutters',
  volts: 24,
  amps: 12,
  feeds: 'ac',
  use: { kind: 'on-off', onMinutes: 10, offMinutes: 20 },
  circuit: { volts: 230, hertz: 50, amps: 16 },
};

const mains = { volts: 230, hertz: 50 };

export function demand(need: Partial<NeedFields> = {}, system: UnitSystem = 'metric'): Demand {
  const found = demandOf({ ...cutters, ...need }, mains, system);
  if (found === null) throw new Error('No winding serves this need.');
  return found;
}

/** A core of which everything is known, invented: 40 × 52 mm with a window of 20 × 60 mm and 412 turns. */
export function facts({ fields, ...more }: Partial<CoreFacts> = {}): CoreFacts {
  return {
    coreId: 1,
    buildId: 1,
    turns: { value: 412, u: 0.4 },
    primaryWireMm: 0.95,
    primaryOhms: { value: 2.9, u: 0.05 },
    heat: { rise: 22, seconds: 2500 },
    noLoadVoltAmperes: 60,
    insulation: 'met',
    ...more,
    fields: {
      label: 'Dimmer core A',
      shape: 'shell',
      fromAppliance: true,
      mass: { value: 5.3, u: 0.05 },
      massIs: 'as-pulled',
      tongue: { value: 40, u: 0.2 },
      stack: { value: 52, u: 0.5 },
      windowWidth: { value: 20, u: 0.2 },
      windowHeight: { value: 60, u: 0.3 },
      fromVolts: 230,
      fromHertz: 50,
      ...fields,
    },
  };
}

/** A core of which nothing but its name is known. */
export const nothingKnown = (coreId: number): CoreFacts => ({
  coreId,
  buildId: coreId,
  fields: { label: `Core ${coreId}`, shape: 'unknown' },
  turns: null,
  primaryWireMm: null,
  primaryOhms: null,
  heat: null,
  noLoadVoltAmperes: null,
  insulation: null,
});
