import type { Turns, WindingFields } from './build.ts';

/** Turns after some were added (or taken off, when negative); null when fewer than a half turn would be left. */
function moreTurns(turns: Turns, added: number): Turns | null {
  switch (turns.kind) {
    case 'unknown':
      return turns;
    case 'counted':
      return turns.turns + added < 0.5 ? null : { kind: 'counted', turns: turns.turns + added };
    case 'estimated':
      // Turns that are counted on add no doubt to those that were found.
      return turns.value + added < 0.5 ? null : { ...turns, value: turns.value + added };
  }
}

/**
 * A winding as the next build has it, after turns were added to it, or taken off: its turns move by as many whole or half
 * turns, and its resistance is not known any more. Null when more would be taken off than there are.
 */
export function rewound({ turnsAdded: _before, ...fields }: WindingFields, added: number): WindingFields | null {
  if (added === 0) return fields;
  const { ohms: _ohms, ohmsCelsius: _at, ...rest } = fields;
  const turns = moreTurns(fields.turns, added);
  return turns === null ? null : { ...rest, turns, turnsAdded: added };
}
