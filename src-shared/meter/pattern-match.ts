import { assertNever } from '../quantity/assert-never.ts';
import type { Program } from './pattern-program.ts';
import type { CharSet } from './char-set.ts';

/** Where a named group matched: its text and its column. */
export interface GroupMatch {
  readonly text: string;
  readonly column: number;
}

type Slots = readonly (number | undefined)[];
interface Thread {
  readonly at: number;
  readonly slots: Slots;
}

const holds = ({ ranges, isNegated }: CharSet, code: number): boolean =>
  ranges.some(([from, to]) => code >= from && code <= to) !== isNegated;

/**
 * Finds the first place where the pattern fits, and its groups, preferring as a backtracking matcher would (leftmost,
 * then by the order of choices and the greed of repeats). All ways are followed at once, each step at most once for each
 * character (Pike's machine, after Thompson 1968), so the work is at most characters times steps: no pattern and no line
 * can take longer.
 */
export function match({ steps, names }: Program, text: string): ReadonlyMap<string, GroupMatch> | undefined {
  let threads: Thread[] = [];
  let found: Slots | undefined;
  const visitedAt = new Int32Array(steps.length).fill(-1);

  /** Follows everything that takes no character, from one step, in order of preference. */
  const follow = (first: number, firstSlots: Slots, column: number, into: Thread[]): void => {
    const pending: Thread[] = [{ at: first, slots: firstSlots }];
    for (let thread = pending.pop(); thread !== undefined; thread = pending.pop()) {
      const { at, slots } = thread;
      const step = steps[at];
      if (step === undefined || visitedAt[at] === column) continue;
      visitedAt[at] = column;
      switch (step.kind) {
        case 'take':
        case 'found':
          into.push(thread);
          break;
        case 'start':
          if (column === 0) pending.push({ at: at + 1, slots });
          break;
        case 'end':
          if (column === text.length) pending.push({ at: at + 1, slots });
          break;
        case 'split':
          pending.push({ at: step.second, slots }, { at: step.first, slots });
          break;
        case 'jump':
          pending.push({ at: step.to, slots });
          break;
        case 'slot':
          pending.push({ at: at + 1, slots: slots.with(step.slot, column) });
          break;
        default:
          assertNever(step);
      }
    }
  };

  const none: Slots = new Array<undefined>(2 * names.length).fill(undefined);
  let next: Thread[] = [];
  follow(0, none, 0, threads);
  for (let column = 0; ; column += 1) {
    next = [];
    const code = text.charCodeAt(column);
    for (const { at, slots } of threads) {
      const step = steps[at];
      if (step?.kind === 'found') {
        // Everything after this thread is less preferred, a later beginning least of all.
        found = slots;
        break;
      }
      if (step?.kind === 'take' && column < text.length && holds(step.set, code))
        follow(at + 1, slots, column + 1, next);
    }
    if (column >= text.length) break;
    if (found === undefined) follow(0, none, column + 1, next);
    if (next.length === 0 && found !== undefined) break;
    threads = next;
  }
  return found === undefined ? undefined : groupsOf(found, names, text);
}

function groupsOf(slots: Slots, names: readonly string[], text: string): ReadonlyMap<string, GroupMatch> {
  const groups = new Map<string, GroupMatch>();
  names.forEach((name, index) => {
    const [from, to] = [slots[2 * index], slots[2 * index + 1]];
    if (from !== undefined && to !== undefined) groups.set(name, { text: text.slice(from, to), column: from });
  });
  return groups;
}
