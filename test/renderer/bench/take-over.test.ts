import { describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { done, failed } from '../../../src-shared/contract/failure.ts';
import type { GuardState } from '../../../src-shared/interlock/state.ts';
import { inputsOf } from '../show-page.ts';
import { BenchFixture, runWhole } from './bench-fixture.ts';
import { showBench } from './show-bench.ts';

/** A run in hand in which the line of the meter on the primary was lost. */
function lostInRun(kind: 'live' | 'ready'): BenchFixture {
  const fixture = new BenchFixture();
  const { program } = fixture;
  const session = fixture.openSession();
  const run = fixture.openRun();
  program.guard = fixture.states()[kind];
  program.setup = {
    procedure: 'test-coil',
    channels: run.channels.map(({ channel, meterId, lockedRange }) => ({ channel, meterId, lockedRange })),
    answers: {},
  };
  program.instead['run.get'] = () => done(runWhole(run, session, []));
  const [first] = program.meters;
  if (first !== undefined) {
    program.meters[0] = { ...first, state: { ...first.state, status: 'lost', sentence: 'The lead was pulled.' } };
  }
  return fixture;
}

const dialog = page.getByRole('dialog', { name: 'Another reader for a channel' });
const asked = ({ program }: BenchFixture) => inputsOf(program, 'bench.take-over');
const accept = dialog.getByRole('button', { name: 'It reads from now on' });

async function openDialog(fixture: BenchFixture): Promise<void> {
  await showBench(fixture);
  await page.getByRole('region', { name: 'Primary volts' }).getByRole('button', { name: 'Take over' }).click();
  await expect.element(dialog).toBeVisible();
}

/** The program takes the reader over, and tells how the guard stands then. */
function takes({ program }: BenchFixture, guard: GuardState): void {
  program.instead['bench.take-over'] = () => {
    program.guard = { ...guard, revision: guard.revision + 1 };
    return done({ nowMs: program.nowMs, state: program.guard });
  };
}

describe('taking a channel over in the middle of a run', () => {
  test('with power on offers the same meter by eye first, wants a reason, and says to touch no lead', async () => {
    const fixture = lostInRun('live');
    takes(fixture, fixture.program.guard);
    await openDialog(fixture);
    await expect.element(dialog.getByText('Power is declared on: touch no lead.')).toBeVisible();
    await expect.element(dialog.getByLabelText('Channel')).toHaveDisplayValue('Primary volts');
    await expect
      .element(dialog.getByLabelText('Read from now on by'))
      .toHaveDisplayValue('Bench meter, read by eye and typed');
    await accept.click();
    await expect.element(dialog.getByText(/^Say why, in a few words: it stands in the record/)).toBeVisible();
    expect(asked(fixture)).toEqual([]);
    await dialog.getByRole('button', { name: 'Its line is lost' }).click();
    await accept.click();
    await expect.element(dialog).not.toBeInTheDocument();
    const [first] = fixture.meterIds;
    expect(asked(fixture)).toEqual([
      {
        reader: { channel: 'primary-volts', meterId: first, lockedRange: 1, byEye: true },
        reason: 'Its line is lost',
      },
    ]);
  });

  test('with power off lets another meter read, with its range locked, on the channel that is chosen', async () => {
    const fixture = lostInRun('ready');
    takes(fixture, fixture.program.guard);
    await openDialog(fixture);
    await expect.element(dialog.getByText(/touch no lead/)).not.toBeInTheDocument();
    await dialog.getByLabelText('Channel').selectOptions('Test-coil volts');
    await dialog.getByLabelText('Read from now on by').selectOptions('Drawer meter');
    await dialog.getByLabelText('Locked range').selectOptions('20 V range');
    await dialog.getByLabelText('Reason', { exact: true }).fill('a wire broke off');
    await accept.click();
    await expect.element(dialog).not.toBeInTheDocument();
    const typed = fixture.meterIds[2];
    expect(asked(fixture)).toEqual([
      { reader: { channel: 'coil-volts', meterId: typed, lockedRange: 0 }, reason: 'a wire broke off' },
    ]);
  });

  test('stays open with what is typed when it is refused, says why at the reader, and leaves without a change', async () => {
    const fixture = lostInRun('live');
    const refusal = 'Power is declared on: another meter takes over after power off.';
    fixture.program.instead['bench.take-over'] = () => failed('guard-refused', refusal);
    await openDialog(fixture);
    await dialog.getByLabelText('Read from now on by').selectOptions('Drawer meter');
    await dialog.getByRole('button', { name: 'It read wrong' }).click();
    await accept.click();
    await expect.element(dialog.getByText(refusal)).toBeVisible();
    await expect.element(dialog.getByLabelText('Read from now on by')).toHaveAttribute('aria-invalid', 'true');
    await expect.element(dialog.getByLabelText('Reason', { exact: true })).toHaveValue('It read wrong');
    await dialog.getByRole('button', { name: 'Close' }).click();
    await expect.element(dialog).not.toBeInTheDocument();
    expect(asked(fixture)).toHaveLength(1);
  });
});
