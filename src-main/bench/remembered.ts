import type { calculate } from '../../src-shared/calculation/calculate.ts';

/** A calculation by its name: `calculate`, or what stands before it. */
export type Calculate = (name: string, input: unknown) => ReturnType<typeof calculate>;

/** Runs that are looked at by turns, each with what follows besides. */
const mostRemembered = 12;

/**
 * The same answers, the last few of them without working them out again: what a run comes to is asked at every change of
 * it, a fit with drawn errors takes a tenth of a second, and most changes touch no reading. The same input has the same
 * answer, so nothing can grow stale.
 */
export function remembered(work: Calculate): Calculate {
  const answers = new Map<string, ReturnType<Calculate>>();
  return (name, input) => {
    const key = `${name} ${JSON.stringify(input)}`;
    const answer = answers.get(key) ?? work(name, input);
    // Put last again, so that the one asked longest ago is the first.
    answers.delete(key);
    answers.set(key, answer);
    const [oldest] = answers.keys();
    if (answers.size > mostRemembered && oldest !== undefined) answers.delete(oldest);
    return answer;
  };
}
