import { calculate } from '../../src-shared/calculation/calculate.ts';
import type { BenchFacts, PlugFacts } from '../../src-shared/interlock/bench.ts';
import type { Build, Turns } from '../../src-shared/record/build.ts';
import type { Session } from '../../src-shared/record/session.ts';
import type { Store } from '../store/store.ts';

const turnsOf = (turns: Turns) => {
  switch (turns.kind) {
    case 'counted':
      return { turns: turns.turns };
    case 'estimated':
      return { turns: { value: turns.value, u: turns.u } };
    case 'unknown':
      return {};
  }
};

/** What an estimate may be above its value: the guard is told the far end of the 95 % interval, never the middle. */
const farEnd = (found: { readonly value: number; readonly interval95: readonly [number, number] | null }): number =>
  found.interval95?.[1] ?? found.value;

/**
 * What is on the bench as the guard needs to know it: every winding and the plug with the volts that `winding-volts`
 * gives it. Whatever cannot be computed is unknown, and so counts as lethal.
 */
function benchFacts(build: Build, { supply, fedWindingId }: Session['fields']): BenchFacts {
  const fedIndex = build.windings.findIndex(({ windingId }) => windingId === fedWindingId);
  const answer = calculate('winding-volts', {
    windings: build.windings.map(({ fields }) => ({
      name: fields.label,
      role: fields.role,
      ...turnsOf(fields.turns),
      onPlug: fields.onPlug,
      oneEndOnCore: fields.oneEndOnCore,
    })),
    fedIndex: Math.max(0, fedIndex),
    feedVolts: supply.volts,
    isolatedSource: supply.kind === 'isolated-low-voltage' || supply.kind === 'isolating-transformer',
  });
  const results = answer.ok && fedIndex >= 0 ? answer.results : null;
  const plugVolts = results?.plugVolts ?? null;
  const hasPlug = build.windings.some(({ fields }) => fields.onPlug);
  const plug: PlugFacts = !hasPlug
    ? { kind: 'none' }
    : plugVolts === null
      ? { kind: 'unknown' }
      : { kind: 'volts', volts: farEnd(plugVolts) };
  return {
    buildId: build.buildId,
    supply,
    fedWindingId: fedIndex < 0 ? null : fedWindingId,
    windings: build.windings.map(({ windingId, fields }, index) => {
      const volts = results?.windings[index]?.volts ?? null;
      return {
        windingId,
        label: fields.label,
        role: fields.role,
        volts: volts === null ? null : farEnd(volts),
        onPlug: fields.onPlug,
        oneEndOnCore: fields.oneEndOnCore,
      };
    }),
    plug,
  };
}

/** The same for a session of the record, whose build is there. */
export function benchFactsOf(store: Store, session: Session): BenchFacts {
  const build = store.builds.get(session.fields.buildId);
  if (build === null)
    throw new Error(`Session ${session.sessionId} names build ${session.fields.buildId}, which is not there.`);
  return benchFacts(build, session.fields);
}
