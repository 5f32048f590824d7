import type { Written } from '../../../src-shared/quantity/format.ts';
import { inSystem, symbolIn, type UnitSystem } from '../../../src-shared/quantity/unit.ts';

/** A unit that a calculation gives on purpose, such as circular mils, is shown as it is in both systems. */
const isMeant = (unit: string): boolean => symbolIn('metric', unit) !== unit;

/** The unit in which a system shows what a calculation takes or gives. */
export const shownUnit = (system: UnitSystem, unit: string): string => (isMeant(unit) ? unit : symbolIn(system, unit));

/** A quantity in the units of a system. */
export const shownQuantity = (quantity: Written, system: UnitSystem): Written =>
  isMeant(quantity.unit) ? quantity : inSystem(quantity, system);
