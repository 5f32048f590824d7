/** Two bodies that heat: windings and core, each losing heat to the room and to the other. */
export interface Heating {
  /** Heat capacities, in J/K. */
  readonly windingCapacity: number;
  readonly coreCapacity: number;
  /** Conductances, in W/K. */
  readonly windingToRoom: number;
  readonly coreToRoom: number;
  readonly between: number;
}

/** Temperatures in °C. */
export interface Temperatures {
  readonly winding: number;
  readonly core: number;
}

/** Steps are at most this share of the shortest time in the problem: well inside 0.1 % of any rise. */
const stepShare = 0.05;

function slopes(
  { windingCapacity, coreCapacity, windingToRoom, coreToRoom, between }: Heating,
  { winding, core }: Temperatures,
  watts: { readonly winding: number; readonly core: number },
  room: number,
): Temperatures {
  const across = between * (winding - core);
  return {
    winding: (watts.winding - windingToRoom * (winding - room) - across) / windingCapacity,
    core: (watts.core - coreToRoom * (core - room) + across) / coreCapacity,
  };
}

const moved = (from: Temperatures, by: Temperatures, seconds: number): Temperatures => ({
  winding: from.winding + by.winding * seconds,
  core: from.core + by.core * seconds,
});

/**
 * Temperatures after some seconds of steady losses (in W) in a room (in °C): two bodies by the classical Runge-Kutta
 * method, in steps short against the quicker of them.
 */
export function heated(
  heating: Heating,
  from: Temperatures,
  watts: { readonly winding: number; readonly core: number },
  room: number,
  seconds: number,
): Temperatures {
  const { windingCapacity, coreCapacity, windingToRoom, coreToRoom, between } = heating;
  const quickest = Math.min(windingCapacity / (windingToRoom + between), coreCapacity / (coreToRoom + between));
  const count = Math.max(1, Math.ceil(seconds / (stepShare * quickest)));
  const h = seconds / count;
  const at = (now: Temperatures) => slopes(heating, now, watts, room);
  let now = from;
  for (let index = 0; index < count; index += 1) {
    const one = at(now);
    const two = at(moved(now, one, h / 2));
    const three = at(moved(now, two, h / 2));
    const four = at(moved(now, three, h));
    now = {
      winding: now.winding + (h / 6) * (one.winding + 2 * two.winding + 2 * three.winding + four.winding),
      core: now.core + (h / 6) * (one.core + 2 * two.core + 2 * three.core + four.core),
    };
  }
  return now;
}

/** Where the temperatures end with steady losses, in °C. */
export function finalTemperatures(
  { windingToRoom, coreToRoom, between }: Heating,
  watts: { readonly winding: number; readonly core: number },
  room: number,
): Temperatures {
  const determinant = (windingToRoom + between) * (coreToRoom + between) - between * between;
  return {
    winding: room + ((coreToRoom + between) * watts.winding + between * watts.core) / determinant,
    core: room + ((windingToRoom + between) * watts.core + between * watts.winding) / determinant,
  };
}
