import type { Reading } from '../record/reading.ts';
import { readingUncertainty } from '../record/reading-uncertainty.ts';
import { fillersOf } from '../record/channel-filler.ts';
import { timeFactorOf } from '../record/run-time.ts';
import { channelLabel } from './channel-words.ts';
import { csvCell, csvLine } from './csv.ts';
import type { RunFacts } from './run-facts.ts';

const keptAtMost = 20_000;

/** Marks the text as UTF-8 for table programs that would else take it for something older. */
export const byteOrderMark = '\ufeff';

/**
 * The readings of a run as lines of RFC 4180: `head` first (units stand there), then one line a reading in the order of
 * acceptance. Each channel has a column for its value and one for its standard uncertainty, so that a table program can
 * draw it as it is; the others stay empty on that line. Simulated time is named so in its head; how many times faster than
 * the clock it went is the last column, 1 for time as it is. Text cells are harmless (csv.ts).
 */
export function readingsCsv({ run, meters, takers }: Pick<RunFacts, 'run' | 'meters' | 'takers'>): {
  readonly head: string;
  readonly line: (reading: Reading) => string;
} {
  const factor = timeFactorOf(run);
  const isSimulated = factor !== 1;
  const labels = run.channels.map(({ channel }) => channelLabel(run.procedure, channel));
  const head = csvLine([
    'reading',
    isSimulated ? 'since start (simulated s)' : 'since start (s)',
    'time (UTC)',
    'channel',
    'kind',
    ...labels.flatMap((label, index) => {
      const unit = run.channels[index]?.unit ?? '';
      return [`${label} (${unit})`, `u of ${label} (${unit})`];
    }),
    'text as sent',
    'came from',
    'meter',
    'coupling',
    'resolution (in the unit of the channel)',
    'range (top of it)',
    'range locked',
    'bottom of range',
    'after a trip',
    'practice',
    'times faster than the clock',
  ]);
  // What is the same on every line of a channel, or is one of a few words, is written once.
  const fixed = run.channels.map((channel, index) => ({
    channel,
    label: csvCell(labels[index] ?? ''),
    readers: fillersOf(channel).map((filler, nth) => {
      const description = nth === 0 ? meters[index] : takers[index]?.[nth - 1];
      return { filler: { ...filler, unit: channel.unit }, description, meter: csvCell(description?.label ?? '') };
    }),
    before: ','.repeat(2 * index),
    after: ','.repeat(2 * (run.channels.length - 1 - index)),
  }));
  const words = new Map<string | null, string>();
  const word = (text: string | null): string => {
    const written = words.get(text) ?? csvCell(text);
    words.set(text, written);
    return written;
  };
  // A meter shows few different values: what each is worth is worked out once, and forgotten before it grows large.
  const known = run.channels.map(() => new Map<string, number | null>());
  type Reader = (typeof fixed)[number]['readers'][number];
  const uOf = (reading: Reading, { filler, description }: Reader): number | null => {
    const { kind, value, resolution, rangeIndex, coupling } = reading;
    if (kind !== 'number' || description === undefined) return null;
    const key = `${filler.fromMs} ${value} ${resolution} ${rangeIndex} ${coupling}`;
    const before = known[reading.channel]?.get(key);
    if (before !== undefined) return before;
    const exact = readingUncertainty(reading, filler, description);
    const u = exact === null ? null : rounded(exact);
    if ((known[reading.channel]?.size ?? 0) >= keptAtMost) known[reading.channel]?.clear();
    known[reading.channel]?.set(key, u);
    return u;
  };
  const line = (reading: Reading): string => {
    const own = fixed[reading.channel];
    // Most channels had one reader all along.
    const reader = own?.readers.findLast(({ filler }) => reading.atMs >= filler.fromMs);
    if (own === undefined || reader?.description === undefined) return '';
    const { description, meter } = reader;
    const { readingId, atMs, wallMs, kind, value, text, origin, coupling, resolution, rangeIndex } = reading;
    const u = uOf(reading, reader);
    const top = rangeIndex === null ? undefined : description.ranges[rangeIndex]?.top;
    const marks = `${yes(reading.rangeLocked)},${yes(reading.bottomOfRange)},${yes(reading.tripped)}`;
    return (
      `${readingId},${atMs / 1000},${new Date(wallMs).toISOString()},${own.label},${word(kind)},` +
      `${own.before}${value ?? ''},${u ?? ''}${own.after},${csvCell(text)},${word(origin)},${meter},` +
      `${word(coupling)},${resolution ?? ''},${top ?? ''},${marks},${yes(run.practice || origin === 'practice')},${factor}\r\n`
    );
  };
  return { head, line };
}

const yes = (is: boolean): string => (is ? 'yes' : 'no');

/** Four significant digits: more of an uncertainty is noise. */
const rounded = (u: number): number => Number(u.toPrecision(4));
