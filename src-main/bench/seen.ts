import type { LastReading } from '../../src-shared/contract/meter-view.ts';
import type { SetUp } from '../../src-shared/interlock/bench.ts';
import { isCheckId, type CheckId } from '../../src-shared/interlock/checks.ts';
import type { GuardState } from '../../src-shared/interlock/state.ts';
import type { SetUpNow } from './choose.ts';

/** A check that the program decides, and whether it holds by what it sees. */
export type Seen = readonly [CheckId, boolean];

/** A no-load current is read after it has calmed down: common practice, no source. */
const calmAfterMs = 10_000;

/** What set-up and answers show: what the procedure says, and whether the kind of every ammeter is known. */
export function seenAtSetUp({ procedure, answers, filled }: SetUpNow, setUp: SetUp): readonly Seen[] {
  const ammeters = filled.filter(({ channel }) => channel.kind === 'energised-amps');
  const isKindKnown = ammeters.length > 0 && ammeters.every(({ description }) => description.responding !== 'unknown');
  const asked = Object.entries(procedure.seen(setUp, answers)).flatMap(([id, holds]): readonly Seen[] =>
    isCheckId(id) ? [[id, holds]] : [],
  );
  return setUp.checklists.includes('N') ? [...asked, ['n-type', isKindKnown]] : asked;
}

/** What the readings show: ranges that are locked and well used, and a core that has calmed down after power-on. */
export function seenWhileListening(
  { procedure, filled }: SetUpNow,
  state: GuardState,
  last: (meterId: number, channel: string) => LastReading | null,
): readonly Seen[] {
  const { rangeCheck } = procedure;
  const ranges: readonly Seen[] =
    rangeCheck === null
      ? []
      : [
          [
            rangeCheck,
            filled.every(({ channel, meterId, lockedRange }) => {
              const reading = last(meterId, channel.id);
              return lockedRange !== null && reading?.kind === 'number' && !reading.bottomOfRange;
            }),
          ],
        ];
  if (state.setUp?.checklists.includes('N') !== true || state.kind !== 'live') return ranges;
  const isCalm = state.watch.nowMs - state.power.onAtMs >= calmAfterMs && !state.coreMagnetised;
  return [...ranges, ['n-wait', isCalm]];
}
