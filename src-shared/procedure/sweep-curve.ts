import type { CoreFields } from '../record/core.ts';
import { fedOhms, given, inputOf, turnsInput, type RunMaterial, type StandingPoint } from './material.ts';

/** Usual part of a stack that is iron: common practice, no source. */
const usualStacking = 0.95;
/** Added turns that a person thinks of first, as parts of the primary. */
const addedParts = [0, 0.03, 0.06, 0.1, 0.15, 0.2];
/** Fewer points tell no curve. */
const fewestPoints = 3;

/** Net iron area, in mm²; undefined when tongue or stack is not known. */
function ironArea(core: CoreFields | null) {
  if (core?.tongue === undefined || core.stack === undefined) return undefined;
  const value = core.tongue.value * core.stack.value * (core.stackingFactor ?? usualStacking);
  const parts = [core.tongue, core.stack].map(({ value: size, u }) => (u === null ? null : u / size));
  const [tongue, stack] = parts;
  return {
    value,
    u:
      tongue === null || tongue === undefined || stack === null || stack === undefined
        ? null
        : value * Math.hypot(tongue, stack),
  };
}

function pointInput(material: RunMaterial, point: StandingPoint) {
  const { turns } = point.fields;
  const ammeter = material.responding['line-amps'];
  return {
    volts: inputOf(point, 'primary-volts'),
    amps: inputOf(point, 'line-amps'),
    ...given('watts', inputOf(point, 'watts')),
    ...given('averageVolts', inputOf(point, 'average-volts')),
    ...(typeof turns === 'number' ? { turns } : {}),
    ...given('meterKind', ammeter),
    supplyKind: material.supply.kind,
  };
}

/**
 * The input of `excitation` that a sweep amounts to: the curve through its points, and what the current would be with some
 * more turns at the volts that the core is from. Null while there are too few points, or the turns are not known.
 */
export function curveInput(material: RunMaterial) {
  const { core, supply, windings, fedWindingId, points } = material;
  const primaryTurns = turnsInput(windings.find(({ windingId }) => windingId === fedWindingId));
  if (points.length < fewestPoints || primaryTurns === undefined) return null;
  const turns = typeof primaryTurns === 'number' ? primaryTurns : primaryTurns.value;
  return {
    primaryTurns,
    points: points.map((point) => pointInput(material, point)),
    ...given('primaryOhms', fedOhms(material)),
    supplyVolts: core?.fromVolts ?? supply.volts,
    addedTurns: [...new Set(addedParts.map((part) => Math.round(part * turns)))],
    hertz: supply.hertz,
    ...given('ironAreaMm2', ironArea(core)),
  };
}
