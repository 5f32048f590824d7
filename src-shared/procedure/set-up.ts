import {
  fillerOf,
  isJoinedToMains,
  type BenchFacts,
  type ChannelFacts,
  type MeterFacts,
  type SetUp,
} from '../interlock/bench.ts';
import { bounds } from '../interlock/bounds.ts';
import type { ProposedLimits } from '../interlock/limit.ts';
import type { Answers } from './field.ts';
import type { Procedure, ProcedureChannel } from './procedure.ts';

/** Who fills the channels: the meter's facts by channel id. */
export type FilledBy = ReadonlyMap<string, MeterFacts>;

/** Whether a channel reads the fed winding, so that its fall shows that the feed is gone. */
const isOnFed = ({ on }: ProcedureChannel, { windings, fedWindingId }: BenchFacts): boolean =>
  on === 'fed' || (on !== null && windings.some(({ windingId, role }) => windingId === fedWindingId && role === on));

/** The limits of the channels that are in hand: nobody reads the others. */
function limitsOf({ limits, ceilings }: ProposedLimits, channels: readonly ChannelFacts[]): ProposedLimits {
  const isInHand = ({ channel }: { readonly channel: string }) => channels.some(({ id }) => id === channel);
  return { limits: { ...limits, channels: limits.channels.filter(isInHand) }, ceilings: ceilings.filter(isInHand) };
}

/**
 * Everything that the guard needs to judge a procedure on this bench with these meters. A channel that nobody fills is left
 * out unless it is required. Pure; refuses nothing itself.
 */
export function setUpFor(
  procedure: Procedure,
  bench: BenchFacts,
  filledBy: FilledBy,
  touchVolts: number = bounds.touchVolts.preset,
  answers: Answers = {},
): SetUp {
  const isMains = isJoinedToMains(bench.supply);
  const inHand = procedure.channels.filter(({ id, required }) => required || filledBy.has(id));
  const channels = inHand.map((channel): ChannelFacts => {
    const { id, label, kind, unit, coupling, quantity, required, cadence, on, volts } = channel;
    return {
      id,
      label,
      kind,
      unit,
      coupling,
      quantity,
      required,
      cadence,
      onFed: isOnFed(channel, bench),
      volts: volts(bench),
      peak: false,
      joinedToMains: isMains && on !== null,
      meter: filledBy.get(id) ?? null,
    };
  });
  const used = channels.flatMap(({ meter, cadence }) => (meter === null || cadence === 'once' ? [] : [meter]));
  const isOneMeter = procedure.oneMeterWillDo && used.length > 1 && new Set(used.map(fillerOf)).size === 1;
  return {
    procedureId: procedure.id,
    energised: procedure.energised,
    checklists: procedure.checklists(bench.supply.kind, answers),
    ruledOut: procedure.ruledOut(answers),
    bench,
    channels,
    oneMeter: isOneMeter,
    proposed: limitsOf(procedure.limits(bench, touchVolts, answers), channels),
  };
}
