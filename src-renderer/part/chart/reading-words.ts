import { formatEstimate, formatNumber } from '../../../src-shared/quantity/format.ts';
import type { NearestReading } from '../../../src-shared/report/run-facts.ts';

/** A recorded reading with its uncertainty and, where there is room, the text it came as: `118.6 ± 1.1 V, sent “118.6 V”`. */
export function recordedWords({ kind, value, u, unit, text, origin }: NearestReading, isShort: boolean): string {
  const how = origin === 'keyboard' ? 'typed' : origin === 'practice' ? 'practice' : 'sent';
  const came = isShort ? '' : `, ${how} “${text.trim()}”`;
  if (kind === 'overload') return `beyond the range${came}`;
  if (value === null) return `unreadable${came}`;
  const figure = u === null ? `${formatNumber(value, 6)} ${unit} ± not known` : formatEstimate({ value, u, unit });
  return `${figure}${came}`;
}
