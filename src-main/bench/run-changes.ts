import { lastFiller } from '../../src-shared/record/channel-filler.ts';
import type { ChannelTakenOver, Run, RunChannel } from '../../src-shared/record/run.ts';
import { runChannel, type Filled, type SetUpNow } from './choose.ts';

/** What a set-up changes of the run that is open. */
export interface RunChanges {
  /** Channels that nobody read before. */
  readonly added: readonly Filled[];
  /** Channels that are read by another than before. */
  readonly taken: readonly Filled[];
}

/** Nothing that the record tells of who reads a channel is another thing. */
function isSameReader(
  was: RunChannel,
  { meterId, meterRevisionId, lockedRange, value, passes, byEye }: Filled,
): boolean {
  const last = lastFiller(was);
  return (
    last.meterId === meterId &&
    last.meterRevisionId === meterRevisionId &&
    last.lockedRange === lockedRange &&
    (last.value ?? null) === value &&
    (last.passes ?? 1) === passes &&
    (last.byEye ?? false) === byEye
  );
}

/** What a set-up would change of an open run; null when it is of another procedure or drops a channel, which only a new run can. */
export function changesTo(run: Run, { procedure, filled }: SetUpNow): RunChanges | null {
  const wasOf = ({ channel }: Filled) => run.channels.find((was) => was.channel === channel.id);
  const isKept = run.channels.every((was) => filled.some(({ channel }) => channel.id === was.channel));
  if (run.procedure !== procedure.id || !isKept) return null;
  return {
    added: filled.filter((one) => wasOf(one) === undefined),
    taken: filled.filter((one) => {
      const was = wasOf(one);
      return was !== undefined && !isSameReader(was, one);
    }),
  };
}

const why = (reason: string): string => (reason === '' ? '' : ` Why: ${reason}${/[.!?]$/.test(reason) ? '' : '.'}`);

/** What is told of a channel that was added in the middle of a run. */
export const addedText = ({ channel, description }: Filled, reason: string): string =>
  `${channel.label}: ${description.label} reads it from here.${why(reason)}`;

function takenText(was: Filled | undefined, { channel, meterId, description, lockedRange, byEye }: Filled): string {
  const { label } = description;
  if (was === undefined || was.meterId !== meterId) {
    return `${channel.label}: ${label} took over from ${was?.description.label ?? 'nobody'}.`;
  }
  if (byEye) return `${channel.label}: ${label} is read by eye and typed from here.`;
  if (was.byEye) return `${channel.label}: ${label} sends its readings again from here.`;
  return was.lockedRange === lockedRange
    ? `${channel.label}: ${label} is read as it is described now.`
    : `${channel.label}: ${label} is on another range from here.`;
}

/** What is kept of a channel that another reader took over from `was`. */
export function takeOver(was: Filled | undefined, now: Filled, reason: string): ChannelTakenOver {
  const { channel, unit: _unit, takenOver: _taken, ...filler } = runChannel(now);
  return {
    channel,
    filler: { ...filler, ...(now.byEye ? { byEye: true } : {}) },
    text: `${takenText(was, now)}${why(reason)}`,
  };
}
