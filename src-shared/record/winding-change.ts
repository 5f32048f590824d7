import type { Turns, WindingFields } from './build.ts';
import { canonicalJson } from './canonical.ts';

const same = (a: unknown, b: unknown): boolean => canonicalJson(a) === canonicalJson(b);

/** Turns that were found out: unknown ones become estimated or counted, estimated ones better known. */
function turnsFoundOut(before: Turns, after: Turns): boolean {
  switch (before.kind) {
    case 'unknown':
      return true;
    case 'estimated':
      return after.kind !== 'unknown';
    case 'counted':
      return after.kind === 'counted' && after.turns === before.turns;
  }
}

/**
 * Which fields of a winding would change by more than knowledge. On a build with runs these are closed: a change of the
 * winding itself makes the next build. What a measurement or a closer look finds out stays open: turns that were not
 * counted, a metal or wire that was not known, ohms, whether one end is on the core, notes. Empty when all is open.
 */
export function closedChanges(before: WindingFields, after: WindingFields): readonly (keyof WindingFields)[] {
  const closed: (keyof WindingFields)[] = [];
  if (before.label !== after.label) closed.push('label');
  if (before.role !== after.role) closed.push('role');
  if (!turnsFoundOut(before.turns, after.turns)) closed.push('turns');
  if (before.metal !== 'not-known' && before.metal !== after.metal) closed.push('metal');
  if (before.bareDiameter !== undefined && !same(before.bareDiameter, after.bareDiameter)) closed.push('bareDiameter');
  if (before.wire !== undefined && before.wire !== after.wire) closed.push('wire');
  if (before.strands !== undefined && before.strands !== after.strands) closed.push('strands');
  if (before.onPlug !== after.onPlug) closed.push('onPlug');
  return closed;
}
