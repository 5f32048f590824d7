import type { ChannelFacts } from '../../../src-shared/interlock/bench.ts';
import type { Limits } from '../../../src-shared/interlock/limit.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { duration } from '../../part/time-words.ts';

/** Limits in one line: `Primary volts 26.4 V · 60 s with power on · silence 10 s`. */
export function limitsLine(limits: Limits, channels: readonly ChannelFacts[]): string {
  const bounds = limits.channels.flatMap(({ channel, max }) => {
    const found = channels.find(({ id }) => id === channel);
    return max === null || found === undefined ? [] : [`${found.label} ${formatNumber(max, 4)} ${found.unit}`];
  });
  const time = limits.runSeconds === null ? [] : [`${duration(limits.runSeconds * 1000)} with power on`];
  return [...bounds, ...time, `silence ${duration(limits.silenceSeconds * 1000)}`].join(' · ');
}
