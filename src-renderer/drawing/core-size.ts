import type { CoreFields } from '../../src-shared/record/core.ts';

/** A length to draw, and whether somebody measured it; one that nobody did is drawn dashed. */
export interface DrawnLength {
  readonly mm: number;
  readonly isMeasured: boolean;
}

/** The lengths that a drawing of a core needs, all of them there: measured, or in usual proportion to what was. */
export interface CoreSize {
  readonly shape: CoreFields['shape'];
  readonly tongue: DrawnLength;
  readonly stack: DrawnLength;
  readonly windowWidth: DrawnLength;
  readonly windowHeight: DrawnLength;
}

type Length = 'tongue' | 'stack' | 'windowWidth' | 'windowHeight';

/**
 * Each length over the tongue width. For a shell core the waste-free lamination (window 1/2 by 3/2 of the tongue, stack
 * square): common practice, no source. The others only have to look like what they are.
 */
const proportions: Readonly<Record<CoreFields['shape'], Readonly<Record<Length, number>>>> = {
  shell: { tongue: 1, stack: 1, windowWidth: 0.5, windowHeight: 1.5 },
  'two-limb': { tongue: 1, stack: 1, windowWidth: 1, windowHeight: 3 },
  toroid: { tongue: 1, stack: 1.5, windowWidth: 2, windowHeight: 2 },
  unknown: { tongue: 1, stack: 1, windowWidth: 0.5, windowHeight: 1.5 },
};

/** Iron of each shape in these proportions, over the cube of its tongue. */
const ironOverTongueCubed: Readonly<Record<CoreFields['shape'], number>> = {
  shell: 6,
  'two-limb': 12,
  toroid: 4.5 * Math.PI,
  unknown: 6,
};

/** Mass as pulled over volume of the stack, in kg/mm^3: iron at 95 % stacking, and a fifth of it again in copper. */
const massOverVolume = 7.65e-6 * 0.95 * 1.2;

const tongueWhenNothingIsKnown = 30;

function likelyTongue(fields: CoreFields, of: Readonly<Record<Length, number>>): number {
  if (fields.tongue !== undefined) return fields.tongue.value;
  if (fields.windowHeight !== undefined) return fields.windowHeight.value / of.windowHeight;
  if (fields.windowWidth !== undefined) return fields.windowWidth.value / of.windowWidth;
  if (fields.stack !== undefined) return fields.stack.value / of.stack;
  if (fields.mass !== undefined) {
    return Math.cbrt(fields.mass.value / massOverVolume / ironOverTongueCubed[fields.shape]);
  }
  return tongueWhenNothingIsKnown;
}

/** What to draw for a core as described. Lengths in mm. */
export function coreSizeOf(fields: CoreFields): CoreSize {
  const of = proportions[fields.shape];
  const tongue = likelyTongue(fields, of);
  const length = (name: Length): DrawnLength => {
    const known = fields[name];
    return known === undefined ? { mm: tongue * of[name], isMeasured: false } : { mm: known.value, isMeasured: true };
  };
  return {
    shape: fields.shape,
    tongue: length('tongue'),
    stack: length('stack'),
    windowWidth: length('windowWidth'),
    windowHeight: length('windowHeight'),
  };
}
