import { describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { done, failed } from '../../../src-shared/contract/failure.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import { inputsOf } from '../show-page.ts';
import { BenchFixture, runWhole } from './bench-fixture.ts';
import { showBench } from './show-bench.ts';

const question = page.getByRole('group', { name: 'Back at the bench. While away I changed' });
const commands = ({ program }: BenchFixture) => inputsOf(program, 'guard.send');

/** A bench in that state with a run in hand; checks stand on it. */
function benchIn(kind: GuardState['kind']): BenchFixture {
  const fixture = new BenchFixture();
  const session = fixture.openSession();
  const run = fixture.openRun();
  fixture.program.guard = fixture.states()[kind];
  fixture.program.instead['run.get'] = () => done(runWhole(run, session, []));
  return fixture;
}

/** Shows the bench, leaves it for the meters, and comes back when so much time has gone by. */
async function awayFor(fixture: BenchFixture, seconds: number): Promise<void> {
  const { program } = fixture;
  const { route, present } = await showBench(fixture);
  await expect.element(page.getByRole('navigation', { name: 'At the bench' })).toBeVisible();
  route.go({ kind: 'meters' });
  await expect.element(page.getByRole('heading', { level: 1, name: 'Meters' })).toBeVisible();
  program.nowMs += seconds * 1000;
  program.setGuard(program.guard);
  const toldMs = program.nowMs;
  await expect.poll(() => present.nowMs()).toBeGreaterThanOrEqual(toldMs);
  route.go({ kind: 'bench', part: null });
  await expect.element(page.getByRole('navigation', { name: 'At the bench' })).toBeVisible();
}

describe('coming back to the bench after a while', () => {
  test('asks once what was changed, and tells the guard exactly that', async () => {
    const fixture = benchIn('ready');
    await awayFor(fixture, 120);
    await question.getByRole('button', { name: 'wiring' }).click();
    await expect.element(question).not.toBeInTheDocument();
    expect(commands(fixture)).toMatchObject([{ command: { kind: 'changed', what: ['wiring'] } }]);
  });

  test('takes "nothing" for an answer as well', async () => {
    const fixture = benchIn('ready');
    await awayFor(fixture, 120);
    await question.getByRole('button', { name: 'nothing' }).click();
    await expect.element(question).not.toBeInTheDocument();
    expect(commands(fixture)).toMatchObject([{ command: { kind: 'changed', what: [] } }]);
  });

  test('goes on asking when the program did not take the answer', async () => {
    const fixture = benchIn('ready');
    fixture.program.instead['guard.send'] = () => failed('internal', 'It was not taken.');
    await awayFor(fixture, 120);
    await question.getByRole('button', { name: 'load' }).click();
    await expect.element(page.getByText('It was not taken.').first()).toBeVisible();
    await expect.element(question).toBeVisible();
  });

  test.each([
    ['who was away for less than a minute', 'ready', 30],
    ['whose power is on, and who sees to that first', 'live', 120],
    ['on whose bench no check stands', 'unproved', 120],
  ] as const)('does not ask somebody %s', async (_who, kind, seconds) => {
    const fixture = benchIn(kind);
    await awayFor(fixture, seconds);
    await expect.element(page.getByRole('button', { name: 'End session' })).toBeVisible();
    expect(question.elements()).toEqual([]);
  });
});
