import { createApp, type App } from '../../../src-main/app.ts';
import { systemClock, type Clock } from '../../../src-main/bench/clock.ts';
import type { Outcome } from '../../../src-shared/contract/failure.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import { typed, type Ask } from '../../walk.ts';

/** A clock that runs so many times as fast as the real one. */
export const fastClock = (times: number): Clock => ({
  monoMs: () => systemClock.monoMs() * times,
  wallMs: () => systemClock.wallMs() * times,
  upMs: () => systemClock.upMs() * times,
  after: (ms, act) => systemClock.after(ms / times, act),
  every: (ms, act) => systemClock.every(ms / times, act),
});

/** The program behind a host, asked without one. A refusal is thrown with its `failure`. */
export function startApp(
  folder: string,
  clock: Clock = systemClock,
): { readonly app: App; readonly ask: Ask; readonly pushes: Push[] } {
  const created = createApp({ folder, version: '0.1.0', warning: null, log: () => undefined, clock });
  if (!created.ok) throw new Error(created.failure.message);
  const app = created.value;
  const pushes: Push[] = [];
  app.subscribe((push) => pushes.push(push));
  const ask = typed(async (name, input) => {
    const service = app.services[name] as (given: unknown) => Outcome<unknown> | Promise<Outcome<unknown>>;
    const outcome = await service(input);
    if (!outcome.ok) throw Object.assign(new Error(outcome.failure.message), { failure: outcome.failure });
    return outcome.value;
  });
  return { app, ask, pushes };
}
