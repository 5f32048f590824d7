import type { MeterState } from '../../../src-shared/contract/meter-view.ts';
import type { KeptValue } from '../../../src-shared/record/run.ts';

/** Whether what is to be kept has settled, and what there is to say of it. */
interface CaptureView {
  readonly isSettled: boolean;
  readonly title: string;
  readonly why: string;
}

/** Both channels together: settled when both are, for the shorter time. */
export function togetherView(states: readonly (MeterState | null)[]): CaptureView {
  const settlings = states.map((state) => state?.settling ?? null);
  const waiting = settlings.find((settling) => settling === null || !settling.isSettled);
  if (waiting === undefined) {
    const seconds = Math.floor(Math.min(...settlings.map((settling) => settling?.seconds ?? 0)));
    return { isSettled: true, title: 'Settled.', why: `Both inside their own error for ${seconds} s.` };
  }
  return { isSettled: false, title: 'Not settled yet.', why: waiting?.sentence ?? 'Nothing was read yet.' };
}

/** What comes next with one meter that is moved: primary, coil, primary. */
interface MovedView extends CaptureView {
  /** Where the meter belongs now. */
  readonly channel: 'primary-volts' | 'coil-volts';
  readonly step: string;
}

const order = [
  { channel: 'primary-volts', step: 'Step 1 of 3: primary' },
  { channel: 'coil-volts', step: 'Step 2 of 3: test coil' },
  { channel: 'primary-volts', step: 'Step 3 of 3: primary again' },
] as const;

/**
 * One meter that is moved: the next value of primary, coil, primary, and whether it can be kept.
 * @param towardsNext - values kept towards the next pair
 */
export function movedView(towardsNext: readonly KeptValue[], meter: MeterState | null): MovedView {
  const { channel, step } = order[towardsNext.length % order.length] ?? order[0];
  const where = channel === 'primary-volts' ? 'primary' : 'test coil';
  if (meter?.channel !== channel) {
    return {
      channel,
      step,
      isSettled: false,
      title: step,
      why: `Power off, clip the meter to the ${where}, power on.`,
    };
  }
  const settling = meter.settling;
  return settling?.isSettled === true
    ? {
        channel,
        step,
        isSettled: true,
        title: 'Settled.',
        why: `${step}. Inside its own error for ${Math.floor(settling.seconds)} s.`,
      }
    : { channel, step, isSettled: false, title: step, why: settling?.sentence ?? 'Nothing was read yet.' };
}
