import { expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { done } from '../../src-shared/contract/failure.ts';
import type { BuildRecord } from '../../src-shared/comparison/build-record.ts';
import type { Result } from '../../src-shared/record/run.ts';
import { record, sweep } from '../shared/comparison/given.ts';
import { stiffBench } from '../shared/practice/given.ts';
import { FakeProgram } from './fake-program.ts';
import { benchMeter, dimmerCore } from './shelf-fixture.ts';
import { showPage } from './show-page.ts';

/** A program whose one core has these builds, with what was kept of them. */
function programWith(records: readonly BuildRecord[]): FakeProgram {
  const program = new FakeProgram();
  const coreId = program.addCore(dimmerCore);
  const core = program.cores.get(coreId)?.[0];
  if (core === undefined) throw new Error('The core was just added.');
  const builds = records.map(({ build }) => ({ ...build, coreId }));
  const results = records.flatMap((each) => [...each.results]);
  const runs = records.flatMap((each) => [...each.runs]);
  program.instead['core.list'] = () => done([{ core, builds, results }]);
  program.instead['core.get'] = () => done({ core, builds, results, runs, history: [core] });
  program.instead['session.list'] = () => done(records.flatMap(({ sessions }) => [...sessions]));
  return program;
}
const textOf = (label: string): string => page.getByRole('region', { name: label }).elements()[0]?.textContent ?? '';
const rowOf = (name: RegExp): string => page.getByRole('row', { name }).elements()[0]?.textContent ?? '';

test('says on top what happened, then every quantity with its verdict', async () => {
  await showPage(programWith([record({ number: 2 }), record({ number: 3, turns: 178, amps: 0.381 })]), '#/compare');
  await expect.element(page.getByRole('heading', { name: 'Build 2 beside build 3' })).toBeVisible();
  await expect
    .poll(() => textOf('What happened'))
    .toMatch(/14 more turns on “Primary”: the no-load current fell by 0\.331/);
  expect(rowOf(/^No-load current/)).toMatch(/0\.7120 ± 0\.0059.*0\.3810 ± 0\.0046.*−0\.331.*changed/);
  expect(rowOf(/resistance at 20 °C/)).toMatch(/no change seen.*A change would show from 0\.0\d+ Ω/);
});

test('tells a stranger what was done, by whom it was measured, and what speaks against trusting it', async () => {
  const after = record({ number: 3, turns: 178, amps: 0.381, joint: 'clamped' });
  await showPage(programWith([record({ number: 2 }), after]), '#/compare');
  await expect.element(page.getByRole('heading', { name: 'What was done' })).toBeVisible();
  const lines = page
    .getByRole('listitem')
    .elements()
    .map((item) => item.textContent.trim());
  expect(lines).toEqual(
    expect.arrayContaining([
      '14 more turns on “Primary”',
      'Joint clamped, before as welded',
      'All 4 quantities that were measured on both can be compared.',
      'Not alike: joint. What is done about each stands below.',
      'Build 2: measured by Rowan, 1 Jan 1970, in 1 run.',
    ]),
  );
  expect(rowOf(/^Joint/)).toMatch(/differs.*as welded.*clamped/);
  await expect.element(page.getByText('Nothing takes this out: whatever it does is in the differences.')).toBeVisible();
  await expect.element(page.getByRole('link', { name: /0\.3810/ })).toHaveAttribute('href', '#/run/3');
});

test('exchanges the two, and keeps the pair in the address', async () => {
  const workshop = await showPage(
    programWith([record({ number: 2 }), record({ number: 3, turns: 178, amps: 0.381 })]),
    '#/compare',
  );
  await page.getByRole('button', { name: 'Exchange before and after' }).click();
  await expect.poll(() => textOf('What happened')).toMatch(/14 fewer turns .* rose by/);
  expect(location.hash).toBe('#/compare/3/2');
  expect(workshop.route.place).toEqual({ kind: 'compare', before: 3, after: 2 });
});

test('says what to do where nothing can be compared', async () => {
  await showPage(new FakeProgram(), '#/compare');
  await expect.element(page.getByRole('heading', { name: 'Nothing to compare yet' })).toBeVisible();
});

test('lays the sweeps of both over each other, and says whether they are one curve', async () => {
  const more = { ...stiffBench, added: { turns: 20, ohms20: 0.1, opposed: false } };
  const swept = (number: number, result: Result, turns: number): BuildRecord => {
    const given = record({ number, turns });
    return { ...given, results: [...given.results, { ...result, resultId: 100 + number, buildId: number }] };
  };
  await showPage(programWith([swept(2, sweep(stiffBench, 320), 320), swept(3, sweep(more, 340), 340)]), '#/compare');
  await expect.element(page.getByRole('heading', { name: /One curve for both/ })).toBeVisible();
  expect(rowOf(/^Knee/)).toMatch(/changed/);
  await expect
    .element(page.getByText('The points of both lie on one curve, so the turn counts fit each other.'))
    .toBeVisible();
  expect(rowOf(/^No-load current at 230 V/)).toMatch(/by the curve of build 2, with 20 more turns/);
});

test('is not worked out again for every value that a meter sends', async () => {
  const program = programWith([record({ number: 2 }), record({ number: 3, turns: 178, amps: 0.381 })]);
  program.addMeter(benchMeter);
  const { present } = await showPage(program, '#/compare');
  await expect.poll(() => present.meters.length).toBe(1);
  const [before, described] = [present.meters, present.described];
  const state = program.meters[0]?.state;
  if (state === undefined) throw new Error('The meter was just added.');
  program.push({ kind: 'meter', meter: { ...state, status: 'answering' } });
  await expect.poll(() => present.meters[0]?.state.status).toBe('answering');
  expect(present.meters).not.toBe(before);
  expect(present.described).toBe(described);
});
