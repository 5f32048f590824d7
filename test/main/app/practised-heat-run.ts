import { confirmAll, proveDead, tell, type Ask } from '../../walk.ts';
import type { HandClock } from './hand-clock.ts';
import { mains } from './workbench.ts';

/** A practised heat run of the first invented core with power on, recording. */
export async function practisedHeatRun(ask: Ask, clock: HandClock): Promise<{ runId: number; coreId: number }> {
  const { coreIds } = await ask('practice.lay-out', {});
  await ask('practice.more-meters', {});
  const { meters } = await ask('app.present', {});
  const meterId = (label: string) => meters.find(({ description }) => description.label === label)?.meterId ?? 0;
  const coreId = coreIds[0] ?? 0;
  const build = (await ask('core.get', { coreId })).builds[0];
  const primary = build?.windings.find(({ fields }) => fields.role === 'primary');
  await ask('session.open', {
    fields: {
      buildId: build?.buildId ?? 0,
      supply: mains,
      fedWindingId: primary?.windingId ?? 0,
      ambientCelsius: 21,
      who: 'Rowan',
    },
  });
  await ask('bench.set-up', {
    procedure: 'heat-run',
    channels: [
      { channel: 'primary-volts', meterId: meterId('Practice bench meter'), lockedRange: null },
      { channel: 'line-amps', meterId: meterId('Practice ammeter'), lockedRange: null },
      { channel: 'core-temperature', meterId: meterId('Practice thermometer'), lockedRange: null },
    ],
    answers: { insulationClass: 'unknown', byResistance: 'no', turnsAdded: 'no', expectedAmps: 0.3 },
  });
  clock.pass(1500);
  await proveDead(ask);
  await confirmAll(ask);
  await tell(ask, { kind: 'ready-asked' });
  await tell(ask, { kind: 'power-on-begun' });
  clock.pass(1100);
  await tell(ask, { kind: 'power-on-confirmed' });
  const { runId } = await ask('run.start', {});
  return { runId, coreId };
}
