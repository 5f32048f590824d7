import type { RequestValue } from '../../../../src-shared/contract/request.ts';
import { procedureById } from '../../../../src-shared/procedure/table.ts';
import type { ProcedureChannel } from '../../../../src-shared/procedure/procedure.ts';
import { formatNumber } from '../../../../src-shared/quantity/format.ts';

type Present = RequestValue<'app.present'>;

/** A point of the drawing. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** How a meter is joined: two clips, a ring round a wire, or a bead. */
export type Join = 'clips' | 'ring' | 'bead';

/** A meter on the drawn bench, with what it is joined to. */
export interface DrawnMeter {
  readonly meterId: number;
  readonly label: string;
  readonly channel: string;
  /** What it says now; null while it says nothing. */
  readonly says: string | null;
  readonly join: Join;
  readonly at: readonly Spot[];
  /** Where, in words. */
  readonly where: string;
}

interface Joined {
  readonly join: Join;
  readonly at: readonly Spot[];
  readonly where: string;
}

const fed: Joined = {
  join: 'clips',
  at: [
    { x: 226, y: 120 },
    { x: 226, y: 160 },
  ],
  where: 'on the fed winding',
};
const byWinding: Readonly<Record<string, Joined>> = {
  'test-coil': {
    join: 'clips',
    at: [
      { x: 398, y: 174 },
      { x: 398, y: 184 },
    ],
    where: 'on the test coil',
  },
  secondary: {
    join: 'clips',
    at: [
      { x: 436, y: 70 },
      { x: 420, y: 132 },
    ],
    where: 'on the secondary',
  },
};

/** Where a channel is read, on the drawing. */
function joinOf({ id, unit, on, kind }: ProcedureChannel): Joined {
  if (id === 'ambient') return { join: 'bead', at: [{ x: 528, y: 214 }], where: 'in the air of the room' };
  if (id === 'core-temperature') return { join: 'bead', at: [{ x: 364, y: 140 }], where: 'on the core' };
  if (unit === '°C') return { join: 'bead', at: [{ x: 340, y: 134 }], where: 'on the winding' };
  if (unit === 'A' && kind !== 'resistance') {
    return on === 'secondary'
      ? { join: 'ring', at: [{ x: 400, y: 70 }], where: 'round the wire to the load' }
      : { join: 'ring', at: [{ x: 116, y: 160 }], where: 'round the wire of the feed' };
  }
  if (unit === 'W')
    return {
      join: 'clips',
      at: [
        { x: 150, y: 160 },
        { x: 214, y: 120 },
      ],
      where: 'in and across the feed',
    };
  return byWinding[on ?? ''] ?? fed;
}

/** The meters of the set-up as they lie on the bench, in its order. */
export function drawnMeters({ setup, meters }: Pick<Present, 'setup' | 'meters'>): readonly DrawnMeter[] {
  const procedure = procedureById(setup?.procedure ?? '');
  if (setup === null || procedure === undefined) return [];
  return setup.channels.flatMap(({ channel, meterId }): readonly DrawnMeter[] => {
    const of = procedure.channels.find(({ id }) => id === channel);
    const meter = meters.find((one) => one.meterId === meterId);
    if (of === undefined || meter === undefined) return [];
    const { last } = meter.state;
    const says =
      last === null ? null : last.value === null ? last.text.trim() : `${formatNumber(last.value, 5)} ${last.unit}`;
    return [{ meterId, label: meter.description.label, channel: of.label, says, ...joinOf(of) }];
  });
}
