import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { App } from '../../../src-main/app.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import { correctionOf } from '../../../src-shared/meter/meter-check.ts';
import { serialMeter, typedMeter, type Ask } from '../../walk.ts';
import { openPtyPair, type PtyPair } from '../meter/pty-pair.ts';
import { until } from '../meter/until.ts';
import { startApp } from './start-app.ts';

let folder: string;
let app: App;
let ask: Ask;
let pushes: Push[];
let pair: PtyPair;
let streaming: NodeJS.Timeout;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'turnwright-check-'));
  ({ app, ask, pushes } = startApp(folder));
  pair = await openPtyPair();
  streaming = setInterval(() => void pair.write('12.30 V AC\r\n'), 50);
});
afterEach(async () => {
  clearInterval(streaming);
  await app.close();
  await pair.close();
  rmSync(folder, { recursive: true, force: true });
});

const source = { kind: 'source', label: 'Calibrated source', value: 12, giveOrTake: 0.01 } as const;
const heard = (value: number) =>
  until(
    () => pushes.some((push) => push.kind === 'meter' && Math.abs((push.meter.last?.value ?? 0) - value) < 1e-9),
    `a reading of ${value}`,
  );

it('keeps a check with its date, and uses it as a correction when the person says so', async () => {
  const description = serialMeter('Bench meter', pair.programEnd);
  const { meterId } = await ask('meter.save', { description });
  await heard(12.3);
  const checked = await ask('meter.check', { meterId, typed: null, reference: source });
  // 0.8 % of 12.30 V and 5 steps of 0.01 V are 0.148 V; it is off by 0.30 V.
  expect(checked.checks).toMatchObject([
    { shown: 12.3, unit: 'V', rangeIndex: 1, resolution: 0.01, verdict: 'outside', reference: { value: 12 } },
  ]);
  const check = checked.checks?.[0];
  const found = check === undefined ? null : correctionOf(check, description.ranges[1] ?? null);
  if (found?.ok !== true) throw new Error('no correction');
  // The page that saves it does not know the check itself: it stays all the same.
  await ask('meter.save', { meterId, description: { ...description, corrections: [found.correction] } });
  pushes.length = 0;
  await heard(12);
  const { meters } = await ask('app.present', {});
  expect(meters[0]).toMatchObject({
    description: { checks: [{ verdict: 'outside' }], corrections: [{ against: 'Calibrated source' }] },
    state: { last: { text: '12.30 V AC' } },
  });
  // Checked again it is still the meter itself that is compared, without its correction.
  const again = await ask('meter.check', { meterId, typed: null, reference: source });
  expect(again.checks?.map(({ shown }) => shown)).toEqual([12.3, expect.closeTo(12.3, 9)]);
});

it('compares with another meter, and a typed value on the range it was read on', async () => {
  const reference = await ask('meter.save', { description: serialMeter('Reference meter', pair.programEnd) });
  const { meterId } = await ask('meter.save', { description: typedMeter('Typed meter') });
  await heard(12.3);
  const against = { kind: 'meter', meterId: reference.meterId } as const;
  const { checks } = await ask('meter.check', { meterId, typed: { value: 12.35, rangeIndex: 1 }, reference: against });
  expect(checks).toMatchObject([
    { shown: 12.35, verdict: 'cannot-tell', reference: { label: 'Reference meter', value: 12.3 } },
  ]);
  expect(checks?.[0]?.reference.u).toBeGreaterThan(0.01);
});

it('keeps nothing when there is nothing to compare', async () => {
  const { meterId } = await ask('meter.save', { description: typedMeter('Typed meter') });
  await expect(ask('meter.check', { meterId, typed: null, reference: source })).rejects.toMatchObject({
    failure: { code: 'not-settled' },
  });
  await expect(
    ask('meter.check', { meterId, typed: { value: 1, rangeIndex: 9 }, reference: source }),
  ).rejects.toMatchObject({ failure: { code: 'not-settled' } });
  const { meters } = await ask('app.present', {});
  expect(meters[0]?.description.checks).toBeUndefined();
});
