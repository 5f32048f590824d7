import { calculations } from '../../src-shared/calculation/table.ts';
import { median, type BenchRow } from './row.ts';

const goalMs = 50;

/** The same input with every standard uncertainty so many times as large. */
function moreDoubtful(thing: unknown, times: number): unknown {
  if (Array.isArray(thing)) return thing.map((each) => moreDoubtful(each, times));
  if (typeof thing !== 'object' || thing === null) return thing;
  return Object.fromEntries(
    Object.entries(thing).map(([key, part]: [string, unknown]) => [
      key,
      key === 'u' && typeof part === 'number' ? part * times : moreDoubtful(part, times),
    ]),
  );
}

/** The slowest answer of all calculations to their examples, with the errors drawn where the first order needs it. */
function slowest(times: number) {
  const took = Object.values(calculations).map(({ name, example, answer }) => {
    const input = moreDoubtful(example, times);
    const answersMs = Array.from({ length: 7 }, () => {
      const startedMs = performance.now();
      answer(input);
      return performance.now() - startedMs;
    });
    return { name, ms: median(answersMs) };
  });
  return took.reduce((most, each) => (each.ms > most.ms ? each : most));
}

export function calculationRows(): Promise<readonly BenchRow[]> {
  const [plain, doubtful] = [slowest(1), slowest(10)];
  const row = { unit: 'ms', baseline: null, ratio: null };
  return Promise.resolve([
    { ...row, name: `slowest example (${plain.name})`, value: plain.ms, goal: goalMs, holds: plain.ms <= goalMs },
    { ...row, name: `with ten times the doubt (${doubtful.name})`, value: doubtful.ms, goal: null, holds: null },
  ]);
}
