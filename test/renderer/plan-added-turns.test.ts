import { beforeEach, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { calculate } from '../../src-shared/calculation/calculate.ts';
import { excitationExample } from '../../src-shared/calculation/excitation/example.ts';
import { done, failed } from '../../src-shared/contract/failure.ts';
import type { KeptPoint, KeptValue, Run } from '../../src-shared/record/run.ts';
import type { Session } from '../../src-shared/record/session.ts';
import { curvePoints } from '../../src-renderer/page/plan/added-turns.ts';
import { FakeProgram, fakeWallMs } from './fake-program.ts';
import { dimmerCore, primary } from './shelf-fixture.ts';
import { showPage } from './show-page.ts';

const value = (channel: string, of: { readonly value: number; readonly u: number }, unit: string): KeptValue => ({
  channel,
  value: of.value,
  u: of.u,
  shape: 'normal',
  dof: null,
  shared: null,
  unit,
  readingIds: [1],
  meterId: 1,
  rangeIndex: null,
  bottomOfRange: false,
});

/** The points of the worked sweep, as a run keeps them. */
const points: readonly KeptPoint[] = excitationExample.points.map((point, at) => ({
  eventId: at + 1,
  atMs: 1000 * at,
  values: [
    value('primary-volts', point.volts, 'V'),
    value('line-amps', point.amps, 'A'),
    value('watts', point.watts, 'W'),
  ],
  fields: { turns: point.turns ?? 300 },
  withdrawn: null,
}));

function sweptShelf(kept: readonly KeptPoint[]): FakeProgram {
  const program = new FakeProgram();
  const turns = { kind: 'counted', turns: 300 } as const;
  const coreId = program.addCore(dimmerCore, [{ ...primary, turns, ohms: { value: 2.1, u: 0.02 } }]);
  const buildId = program.builds[0]?.buildId ?? 0;
  const run: Run = {
    runId: 41,
    sessionId: 3,
    buildId,
    procedure: 'no-load-sweep',
    channels: [],
    startedWallMs: fakeWallMs,
    startedMonoMs: 0,
    endedWallMs: fakeWallMs + 60_000,
    ending: 'ended',
    practice: false,
  };
  const session: Session = {
    sessionId: 3,
    openedWallMs: fakeWallMs,
    endedWallMs: null,
    practice: false,
    fields: {
      buildId,
      supply: { kind: 'variable-transformer', volts: 250, hertz: 50, earthed: 'earthed', rcd: 'yes' },
      fedWindingId: null,
      who: 'Test person',
    },
  };
  program.instead['core.get'] = () => {
    const history = program.cores.get(coreId) ?? [];
    const core = history.at(-1);
    if (core === undefined) return failed('not-found', 'There is no such core.');
    return done({ core, builds: [...program.builds], results: [], runs: [run], history });
  };
  program.instead['run.get'] = () =>
    done({
      run,
      session,
      kept: [],
      points: [...kept],
      answers: {},
      events: [],
      results: [],
      soFar: null,
      besides: [],
      waitingFor: null,
      towardsNext: [],
    });
  return program;
}

beforeEach(() => localStorage.clear());

test('predicts what added turns do from the kept points of the newest sweep', async () => {
  await showPage(sweptShelf(points), '#/plan');
  const slider = page.getByRole('slider', { name: /Added turns/ });
  await expect.element(slider).toBeVisible();
  const told = calculate('excitation', {
    primaryTurns: 300,
    points: curvePoints(points, 'variable-transformer', 50),
    primaryOhms: { value: 2.1, u: 0.02 },
    supplyVolts: 230,
    addedTurns: [6],
    hertz: 50,
  });
  if (!told.ok) throw new Error(told.error.message);
  const amps = told.results.predictions[0]?.amps.value ?? Number.NaN;
  const node = slider.element();
  if (node instanceof HTMLElement) node.focus();
  await userEvent.keyboard('{ArrowRight}{ArrowRight}{ArrowRight}');
  await expect.element(slider).toHaveAttribute('aria-valuetext', `6 turns added, ${Number(amps.toPrecision(3))} A`);
  await expect.element(page.getByText(/Every secondary that is there falls to\s+98\s+%/)).toBeVisible();
  const drawn = page.getByRole('img', { name: /No-load current in amps against added/ }).element();
  const levels = (drawn.querySelector('[data-part="curve"]')?.getAttribute('d') ?? '').match(/ [\d.]+/g) ?? [];
  const heights = levels.map(Number);
  expect(heights.length).toBeGreaterThan(5);
  // 60 turns at most, in even steps.
  expect([...drawn.querySelectorAll('.x')].map((mark) => mark.textContent)).toEqual([
    '0',
    '10',
    '20',
    '30',
    '40',
    '50',
    '60',
  ]);
  // More turns, less current: the curve only falls on the screen.
  expect(heights).toEqual([...heights].sort((a, b) => a - b));
});

test('asks for a sweep where there are too few points', async () => {
  await showPage(sweptShelf(points.slice(0, 2)), '#/plan');
  await expect.element(page.getByText(/has 2 points that count: a curve needs 3/)).toBeVisible();
});

test('counts no point that was taken back', () => {
  const withdrawn = points.map((point, at) => (at === 0 ? { ...point, withdrawn: 'clip fell off' } : point));
  expect(curvePoints(withdrawn, 'mains', 50)).toHaveLength(points.length - 1);
  expect(curvePoints(points, 'mains', 50)[7]).toMatchObject({ turns: 320, hertz: 50, supplyKind: 'mains' });
});
