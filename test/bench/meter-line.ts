import { createLineChain } from '../../src-main/meter/line-chain.ts';
import { valuesOf } from '../../src-shared/meter/channel-reading.ts';
import { lineReader } from '../../src-shared/meter/line-reader.ts';
import { serialMeter } from '../walk.ts';
import { median, type BenchRow } from './row.ts';

const linesInBlock = 2000;
const blocks = 60;
/** Ten meters send a hundred lines a second each at most: then one line may take a millisecond, whatever is on it. */
const worstGoalMs = 1;

/** Lines of a meter as they come, values going up and down. */
const lineAt = (index: number): string => `${(118 + Math.sin(index) * 3).toFixed(1)} V AC`;

/** Microseconds a line, the median over blocks. */
function microsecondsPerLine(work: (from: number) => void): number {
  const times = Array.from({ length: blocks }, (_, block) => {
    const startedMs = performance.now();
    work(block * linesInBlock);
    return ((performance.now() - startedMs) / linesInBlock) * 1000;
  });
  return median(times);
}

/** From the bytes of the port to values by the description: guard, line parser, grammar or pattern. */
function readLines(pattern: string | null): number {
  const plain = serialMeter('Bench meter', '/dev/none');
  const meter =
    pattern === null ? plain : { ...plain, format: { ...plain.format, grammar: 'pattern' as const, pattern } };
  const fieldsOf = lineReader(meter.format);
  let read = 0;
  const chain = createLineChain({
    encoding: 'ascii',
    joinsMidLine: false,
    onLine: (text) => {
      if (valuesOf(text, fieldsOf(text), meter)[0]?.value.kind === 'number') read += 1;
    },
    onDropped: () => undefined,
  });
  const perLine = microsecondsPerLine((from) => {
    for (let index = from; index < from + linesInBlock; index += 1) chain.push(Buffer.from(`${lineAt(index)}\r\n`));
  });
  if (read !== blocks * linesInBlock) throw new Error(`Only ${read} lines were read.`);
  return perLine;
}

/** The same lines parted and read by the plainest means there are. */
function plainly(): number {
  let sum = 0;
  const perLine = microsecondsPerLine((from) => {
    for (let index = from; index < from + linesInBlock; index += 1) {
      const text = Buffer.from(`${lineAt(index)}\r\n`)
        .toString('latin1')
        .trimEnd();
      sum += Number.parseFloat(text);
    }
  });
  if (!Number.isFinite(sum)) throw new Error('Nothing was read.');
  return perLine;
}

/** The longest time for one line: the longest lines there can be, against patterns that would hang a backtracking matcher. */
function worstLineMs(): number {
  const patterns = ['(?<value>(?:\\d+\\d*)+x)', '(?:\\d+,?)+(?<value>\\d+)y', '(?<value>\\d+)(?:,?\\s*\\d+)*;$'];
  const lines = ['1'.repeat(256), `${'1 '.repeat(127)}!`, `${'1,'.repeat(127)}?`];
  const plain = serialMeter('Bench meter', '/dev/none');
  const times = patterns.flatMap((pattern) => {
    const fieldsOf = lineReader({ ...plain.format, grammar: 'pattern', pattern });
    return lines.map((line) => {
      const tries = Array.from({ length: 50 }, () => {
        const startedMs = performance.now();
        fieldsOf(line);
        return performance.now() - startedMs;
      });
      return median(tries);
    });
  });
  return Math.max(...times);
}

/** What a line costs on its way from the port to a value. */
export function meterLineRows(): Promise<readonly BenchRow[]> {
  const plain = plainly();
  const row = (name: string, value: number): BenchRow => {
    return { name, value, unit: 'µs', baseline: plain, ratio: value / plain, goal: null, holds: null };
  };
  const worst = worstLineMs();
  return Promise.resolve([
    row('line to value, generic grammar', readLines(null)),
    row('line to value, own pattern', readLines('(?<value>\\d+\\.\\d+) (?<unit>[A-Z]+) (?<coupling>AC|DC)')),
    {
      name: 'line to value, worst pattern and line',
      value: worst,
      unit: 'ms',
      baseline: null,
      ratio: null,
      goal: worstGoalMs,
      holds: worst <= worstGoalMs,
    },
  ]);
}
