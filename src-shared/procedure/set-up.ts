import {
  isJoinedToMains,
  type BenchFacts,
  type ChannelFacts,
  type MeterFacts,
  type SetUp,
} from '../interlock/bench.ts';
import type { Procedure } from './procedure.ts';

/** Who fills the channels: the meter's facts by channel id. */
export type FilledBy = ReadonlyMap<string, MeterFacts>;

/** Everything that the guard needs to judge a procedure on this bench with these meters. Pure; refuses nothing itself. */
export function setUpFor(procedure: Procedure, bench: BenchFacts, filledBy: FilledBy): SetUp {
  const isMains = isJoinedToMains(bench.supply);
  const channels = procedure.channels.map((channel): ChannelFacts => {
    const { id, label, kind, unit, quantity, required, cadence, onFed, volts } = channel;
    return {
      id,
      label,
      kind,
      unit,
      quantity,
      required,
      cadence,
      onFed,
      volts: volts(bench),
      peak: false,
      joinedToMains: isMains,
      meter: filledBy.get(id) ?? null,
    };
  });
  const used = channels.flatMap(({ meter }) => (meter === null ? [] : [meter]));
  const isOneMeter =
    procedure.oneMeterWillDo && used.length > 1 && new Set(used.map(({ meterId }) => meterId)).size === 1;
  return {
    procedureId: procedure.id,
    energised: procedure.energised,
    checklists: procedure.checklists(bench.supply.kind),
    ruledOut: procedure.ruledOut,
    bench,
    channels,
    oneMeter: isOneMeter,
    proposed: procedure.limits(bench),
  };
}
