import type { MeterState } from '../../../src-shared/contract/meter-view.ts';
import type { ChannelFacts } from '../../../src-shared/interlock/bench.ts';

/** Temperatures creep: they go along with a point as they stand. So does what is read once. */
const goesAlong = ({ kind, cadence }: ChannelFacts): boolean =>
  kind === 'temperature' || kind === 'ambient' || cadence === 'once';

/** The channels that a point waits for. */
export const waitedFor = (channels: readonly ChannelFacts[]): readonly ChannelFacts[] =>
  channels.filter((channel) => channel.meter !== null && !goesAlong(channel) && channel.kind !== 'cooling-resistance');

/** Whether a point can be kept, and what there is to say of it. */
export interface PointView {
  readonly isSettled: boolean;
  readonly title: string;
  readonly why: string;
}

/** All of these channels together: settled when each is; otherwise the first that is not, by its name. */
export function pointView(
  channels: readonly ChannelFacts[],
  stateOf: (channel: ChannelFacts) => MeterState['settling'],
): PointView {
  if (channels.length === 0) return { isSettled: true, title: 'It records by itself.', why: '' };
  const waiting = channels.find((channel) => stateOf(channel)?.isSettled !== true);
  if (waiting === undefined) {
    return {
      isSettled: true,
      title: 'Settled.',
      why: channels.length === 1 ? '' : 'Every channel inside its own error.',
    };
  }
  const sentence = stateOf(waiting)?.sentence ?? 'Nothing was read yet.';
  return { isSettled: false, title: 'Not settled yet.', why: `${waiting.label}: ${sentence}` };
}
