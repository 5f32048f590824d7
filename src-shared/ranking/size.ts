import { calculate } from '../calculation/calculate.ts';
import { conductors } from '../calculation/conductor.ts';
import type { CoreFields } from '../record/core.ts';
import { dimensionsOf } from './power.ts';

/** How large a core is, as the mass it has with windings on. */
export interface Size {
  readonly kg: number;
  /** From the dimensions, where nobody weighed it as pulled. */
  readonly isEstimated: boolean;
}

/** Silicon steel in kg/mm³ (Fitzgerald, Kingsley and Umans, Electric Machinery, ex. 1.8), and the usual stacking. */
const steel = 7.65e-6;
const usualStacking = 0.95;
/** Copper in a window wound by hand: McLyman, from memory. */
const copperFill = 0.35;

/** Sheets seen from their face, in mm²; windows taken out. */
function faceArea({ shape, tongue, windowWidth, windowHeight }: CoreFields): number | null {
  if (tongue === undefined || windowWidth === undefined) return null;
  const [t, w] = [tongue.value, windowWidth.value];
  if (shape === 'toroid') return (Math.PI / 4) * ((w + 2 * t) ** 2 - w ** 2);
  if (windowHeight === undefined) return null;
  const h = windowHeight.value;
  return shape === 'two-limb' ? (2 * t + w) * (2 * t + h) - w * h : (2 * t + 2 * w) * (h + t) - 2 * w * h;
}

/** The size of a core; null while neither its mass nor its dimensions say. */
export function sizeOf(fields: CoreFields): Size | null {
  const { mass, massIs, stack, stackingFactor } = fields;
  if (mass !== undefined && massIs !== 'stripped') return { kg: mass.value, isEstimated: false };
  const dimensions = dimensionsOf(fields);
  const areas = dimensions === null ? null : calculate('core-rating', dimensions);
  const { windowArea, meanTurnLength } = areas?.ok === true ? areas.results : {};
  const copper =
    windowArea === undefined || meanTurnLength === undefined
      ? null
      : copperFill * windowArea.value * meanTurnLength.value * conductors.copper.density * 1e-6;
  if (mass !== undefined) return { kg: mass.value + (copper ?? 0), isEstimated: true };
  const face = faceArea(fields);
  if (face === null || stack === undefined || copper === null) return null;
  return { kg: face * stack.value * (stackingFactor ?? usualStacking) * steel + copper, isEstimated: true };
}
