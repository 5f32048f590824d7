import { expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { BenchFixture } from './bench-fixture.ts';
import { showBench } from './show-bench.ts';

test('a set-up that is being chosen begins anew for another session: who read what before is no answer', async () => {
  const fixture = new BenchFixture();
  const { program } = fixture;
  const session = fixture.openSession();
  const [first, second] = fixture.meterIds;
  program.guard = fixture.states().unproved;
  program.setup = {
    procedure: 'test-coil',
    channels: [
      { channel: 'primary-volts', meterId: first, lockedRange: null },
      { channel: 'coil-volts', meterId: second, lockedRange: null },
    ],
    answers: {},
  };
  await showBench(fixture, { part: 'set-up' });
  const form = page.getByRole('form', { name: 'Who reads the two voltages' });
  await expect.element(form.getByLabelText('Primary volts').first()).toHaveDisplayValue('Bench meter');
  program.session = { ...session, sessionId: 4 };
  program.setup = null;
  program.push({ kind: 'changed', what: 'session', id: 4 });
  await expect.element(page.getByText(/Session 4/)).toBeVisible();
  await expect.element(form.getByLabelText('Primary volts').first()).toHaveDisplayValue('Choose');
});
