import { describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { done, failed } from '../../../src-shared/contract/failure.ts';
import { BenchFixture, keptPair, runWhole } from './bench-fixture.ts';
import { showBench } from './show-bench.ts';

const settled = { isSettled: true, seconds: 8, sentence: '' };
const button = (name: string | RegExp) => page.getByRole('button', { name });
const textOf = (name: string): string => page.getByRole('region', { name }).elements()[0]?.textContent ?? '';
const commands = (fixture: BenchFixture) =>
  fixture.program.asked.filter(({ name }) => name === 'guard.send').map(({ input }) => input);

/** With power on, two settled meters and two kept pairs. */
function liveBench(): BenchFixture {
  const fixture = new BenchFixture();
  const session = fixture.openSession();
  const run = fixture.openRun();
  fixture.program.guard = fixture.states().live;
  const pairs = [keptPair(5, 6, 0.5931, 23.75), keptPair(6, 10, 0.9869, 23.7)];
  fixture.program.instead['run.get'] = () => done(runWhole(run, session, pairs));
  return fixture;
}

describe('supplies', () => {
  test('a dimmer is refused by name, with the reason, and nothing is asked of the program', async () => {
    const fixture = new BenchFixture();
    await showBench(fixture);
    await page.getByRole('radio', { name: /^Dimmer/ }).click();
    await expect.poll(() => page.getByText(/A dimmer cuts the wave/).elements().length).toBe(1);
    await button('Open the session').click();
    expect(fixture.program.asked.some(({ name }) => name === 'session.open')).toBe(false);
  });

  test('an address brings its build, and the primary is proposed as fed', async () => {
    const fixture = new BenchFixture();
    await showBench(fixture, { part: `build-${fixture.buildId}` });
    const valueOf = (label: string) => {
      const [node] = page.getByLabelText(label).elements();
      return node instanceof HTMLSelectElement ? Number(node.value) : null;
    };
    await expect.poll(() => valueOf('Core and build')).toBe(fixture.buildId);
    await expect.poll(() => valueOf('Winding that is fed')).toBe(fixture.primaryId);
  });

  test('sends what was typed, decimal comma and all', async () => {
    const fixture = new BenchFixture();
    await showBench(fixture, { part: `build-${fixture.buildId}` });
    fixture.program.instead['session.open'] = () => failed('session-open', 'A session is open elsewhere.');
    await page.getByLabelText('Highest volts it can give').fill('11,8');
    await page.getByLabelText(/Room temperature/).fill('21,5');
    await button('Open the session').click();
    await expect.poll(() => page.getByText('A session is open elsewhere.').elements().length).toBe(1);
    expect(fixture.program.asked.find(({ name }) => name === 'session.open')?.input).toMatchObject({
      fields: {
        supply: { kind: 'isolated-low-voltage', volts: 11.8 },
        ambientCelsius: 21.5,
        fedWindingId: fixture.primaryId,
      },
    });
  });
});

test('a half-filled session is still there on return', async () => {
  const fixture = new BenchFixture();
  const { route } = await showBench(fixture);
  await page.getByLabelText('Highest volts it can give').fill('11,8');
  route.go({ kind: 'meters' });
  await expect.poll(() => page.getByLabelText('Highest volts it can give').elements().length).toBe(0);
  route.go({ kind: 'bench', part: null });
  const volts = page.getByLabelText('Highest volts it can give');
  await expect.poll(() => volts.elements().length).toBe(1);
  expect(volts.element()).toHaveProperty('value', '11,8');
});

describe('limits and changes', () => {
  test('a refused loosening is said in the dialog, and the reason goes with the next try', async () => {
    const fixture = new BenchFixture();
    fixture.openSession();
    fixture.program.guard = fixture.states().isolated;
    await showBench(fixture);
    await button('Set limits').click();
    await page.getByLabelText('A meter may be silent').fill('20');
    // Looser than proposed: the dialog says so itself, before anything is sent.
    await button('Keep these limits').click();
    await expect.poll(() => page.getByText(/looser than proposed: say why/).elements().length).toBe(1);
    expect(commands(fixture)).toEqual([]);
    await button('The meter is slow').click();
    fixture.program.instead['guard.send'] = () =>
      failed('guard-refused', 'Out of bounds.', {
        detail: { code: 'out-of-bounds', what: 'primary-volts max', value: 50, lowest: null, highest: 26.4 },
      });
    await button('Keep these limits').click();
    // What the guard refuses stands at its box, which has the keyboard.
    await expect
      .poll(() => page.getByRole('dialog').element().textContent)
      .toMatch('26.4 at most: the rating behind it');
    await expect.poll(() => document.activeElement?.getAttribute('id')).toBe('limit-primary-volts-max');
    await button('Keep these limits').click();
    await expect.poll(() => commands(fixture).length).toBe(2);
    expect(commands(fixture)[1]).toMatchObject({
      command: { kind: 'limits-set', reason: 'The meter is slow', limits: { silenceSeconds: 20, runSeconds: null } },
    });
  });

  test('each chip says exactly what was changed, and "nothing" says nothing', async () => {
    const fixture = new BenchFixture();
    fixture.openSession();
    fixture.program.guard = fixture.states().isolated;
    await showBench(fixture);
    await button('wiring').click();
    await expect.poll(() => page.getByText(/Changed: wiring/).elements().length).toBe(1);
    await button('nothing').click();
    await expect.poll(() => commands(fixture).length).toBe(2);
    expect(commands(fixture)).toMatchObject([
      { command: { kind: 'changed', what: ['wiring'] } },
      { command: { kind: 'changed', what: [] } },
    ]);
  });

  test('a lapsed line says why it is asked again', async () => {
    const fixture = new BenchFixture();
    fixture.openSession();
    const { isolated } = fixture.states();
    const lapse = { checkId: 'b-hv', atMs: 60_000, cause: { kind: 'event', event: 'wire' } } as const;
    fixture.program.guard = { ...isolated, lapsed: { 'b-hv': lapse } };
    await showBench(fixture);
    await expect.poll(() => textOf('Checked before power')).toMatch(/asked again: the wiring was changed/);
  });
});

describe('with power on', () => {
  test('the question whether the plug was pulled is answered by saying that power is off; other alarms stay', async () => {
    const fixture = liveBench();
    const { program } = fixture;
    await showBench(fixture);
    await expect.element(page.getByText(/power declared on/).first()).toBeVisible();
    const tell = (code: string, sentence: string) => {
      program.push({ kind: 'alarm', code, sentence, atMs: program.nowMs });
    };
    tell('volts-gone', 'Primary volts: 0 V. Did you pull the plug?');
    tell('meter-quiet', 'Primary volts: its meter has been quiet for 6 s.');
    await expect.element(page.getByText(/Did you pull the plug/)).toBeVisible();
    program.setGuard(fixture.states().proving);
    await expect.element(page.getByText(/Did you pull the plug/)).not.toBeInTheDocument();
    await expect.element(page.getByText(/its meter has been quiet for 6 s/)).toBeVisible();
  });

  test('keys keep a pair, open the far view, show the working; letters in a field stay letters', async () => {
    const fixture = liveBench();
    const kept: unknown[] = [];
    fixture.program.instead['pair.keep'] = (input) => {
      kept.push(input);
      return done(keptPair(7, input.coilTurns, 0.9869, 23.7));
    };
    await showBench(fixture);
    await expect.poll(() => textOf('Turns on the primary')).toMatch(/240\.18/);
    fixture.hear(0, 23.72, 0.14, 1, settled);
    fixture.hear(1, 0.9874, 0.0062, 0, settled);
    const turns = page.getByLabelText('Coil turns');
    await turns.fill('10');
    await userEvent.keyboard('k');
    await expect.poll(() => turns.element()).toHaveProperty('value', '10k');
    await turns.fill('10');
    await page.getByLabelText('Meters exchanged').click();
    await userEvent.keyboard('k');
    await expect.poll(() => kept).toEqual([{ runId: 41, coilTurns: 10, swapped: true }]);
    await userEvent.keyboard('w');
    await expect.poll(() => textOf('Turns on the primary')).toMatch(/Where the doubt comes from/);
    await userEvent.keyboard('v');
    const far = page.getByRole('dialog', { name: 'Far view' });
    await expect
      .poll(() => far.elements()[0]?.textContent ?? '')
      .toMatch(/Live.*23\.72.*Settled\. Both inside.*Limits Primary volts 26\.4 V/);
    await userEvent.keyboard('v');
    await expect.poll(() => far.elements().length).toBe(0);
  });

  test('a refused typed value stays as typed, with what is wrong', async () => {
    const fixture = liveBench();
    fixture.program.instead['reading.type'] = () => failed('unreadable', '"23,,7" has two marks between its digits.');
    await showBench(fixture);
    await expect.poll(() => page.getByRole('button', { name: /Type a value/ }).elements().length).toBe(1);
    await userEvent.keyboard('t');
    const field = page.getByLabelText('Value as the meter shows it');
    await expect.poll(() => document.activeElement?.id).toBe('typed-value');
    await field.fill('23,,7');
    await userEvent.keyboard('{Enter}');
    await expect.poll(() => page.getByText(/two marks between/).elements().length).toBe(1);
    expect(field.element()).toHaveProperty('value', '23,,7');
  });

  test('with the meters exchanged each figure shows what is read there, whoever reads it', async () => {
    const fixture = liveBench();
    await showBench(fixture);
    await expect.poll(() => textOf('Turns on the primary')).toMatch(/240\.18/);
    fixture.hear(0, 0.99, 0.01, 1, settled);
    fixture.hear(1, 23.7, 0.1, 1, settled);
    await expect.poll(() => textOf('Primary volts')).toMatch(/0\.99V/);
    await page.getByLabelText('Meters exchanged').click();
    await expect.poll(() => textOf('Primary volts')).toMatch(/23\.700V.*Pocket meter/);
    expect(textOf('Test-coil volts')).toMatch(/0\.99V.*Bench meter/);
  });

  test('a coil that was likely miscounted is named by its passes, withdrawn pairs left out of the count', async () => {
    const fixture = liveBench();
    const [session, run] = [fixture.openSession(), fixture.openRun()];
    const withdrawn = { ...keptPair(4, 3, 0.31, 23.7), withdrawn: 'Lead slipped' };
    // Turns that were really 9 read as 10: one in ten, far beyond what these meters allow.
    const pairs = [
      withdrawn,
      keptPair(5, 20, 1.975, 23.7),
      keptPair(6, 30, 2.9625, 23.7),
      keptPair(7, 10, 0.8888, 23.7),
    ];
    fixture.program.instead['run.get'] = () => done(runWhole(run, session, pairs));
    await showBench(fixture);
    await expect.poll(() => textOf('Turns on the primary')).toMatch(/The pair of 10 passes does not agree/);
  });

  test('one meter is guided primary, coil, primary', async () => {
    const fixture = new BenchFixture();
    const session = fixture.openSession();
    const run = fixture.openRun();
    fixture.program.guard = fixture.states(fixture.record({ known: true, oneMeter: true })).live;
    const { primary } = keptPair(5, 10, 0.9869, 23.75);
    fixture.program.instead['run.get'] = () => done({ ...runWhole(run, session, []), towardsNext: [primary] });
    const moves: unknown[] = [];
    fixture.program.instead['bench.meter-to'] = (input) => {
      moves.push(input);
      return done({});
    };
    await showBench(fixture);
    await expect.poll(() => textOf('Capture')).toMatch(/Step 2 of 3: test coil.*clip the meter to the test coil/);
    await expect.poll(() => textOf('Test-coil volts')).toMatch(/not here now/);
    await button('The meter is there now').click();
    await expect.poll(() => moves).toEqual([{ channel: 'coil-volts' }]);
  });

  test('a crossed limit stands at its own channel', async () => {
    const fixture = liveBench();
    fixture.program.guard = fixture.states().tripped;
    await showBench(fixture);
    await expect.poll(() => textOf('Primary volts')).toMatch(/limit crossed 26\.4 V/);
    expect(textOf('Test-coil volts')).not.toMatch(/crossed/);
  });

  test('at 1024 by 700 the checks fold into one line with a count, and open over the rest', async () => {
    const fixture = liveBench();
    await showBench(fixture, { width: 1024, height: 700 });
    await expect.poll(() => textOf('Checked before power')).toMatch(/\d+ of \d+ checked/);
    expect(page.getByRole('list', { name: 'Checks', exact: true }).elements()).toEqual([]);
    await page.getByRole('button', { name: 'Checks' }).click();
    await expect.poll(() => page.getByRole('list', { name: 'Checks', exact: true }).elements().length).toBe(1);
    const main = document.querySelector('main');
    expect(main?.scrollHeight).toBeLessThanOrEqual((main?.clientHeight ?? 0) + 1);
  });

  test('every button of the bench is at least 44 by 44', async () => {
    await showBench(liveBench());
    await expect.poll(() => textOf('Turns on the primary')).toMatch(/240\.18/);
    const small = [...document.querySelectorAll('main button, main a.btn, main summary')]
      .map((node) => ({ text: node.textContent, box: node.getBoundingClientRect() }))
      .filter(({ box }) => box.height > 0 && (box.height < 44 || box.width < 44));
    expect(small).toEqual([]);
  });

  test('puts no style attribute in its own markup that a strict content policy would refuse', async () => {
    await showBench(liveBench());
    await expect.poll(() => textOf('Turns on the primary')).toMatch(/240\.18/);
    expect(document.querySelector('main [style]:not(.uplot, .uplot *, i)')).toBeNull();
  });
});
