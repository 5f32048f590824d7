import { isPowered } from '../../interlock/state.ts';
import type { SupplyKind } from '../../record/session.ts';
import type { LessonFacts, LessonRun, LessonStep } from './lesson.ts';

/** Where a lesson sits down: the supplies that fit, and on which build. */
export interface Sitting {
  readonly kinds: readonly SupplyKind[];
  readonly onNewestBuild?: boolean;
}

const newestBuildId = ({ builds }: LessonFacts): number | null => builds.at(-1)?.buildId ?? null;

const fits = (facts: LessonFacts, { kinds, onNewestBuild = false }: Sitting): boolean =>
  facts.session !== null &&
  kinds.includes(facts.session.fields.supply.kind) &&
  facts.session.fields.fedWindingId !== null &&
  (!onNewestBuild || facts.session.fields.buildId === newestBuildId(facts));

/** The runs of a lesson by one of these procedures. */
export const runsBy = ({ runs }: LessonFacts, procedures: readonly string[]): readonly LessonRun[] =>
  runs.filter(({ run }) => procedures.includes(run.procedure));

const step = (
  id: string,
  place: LessonStep['place'],
  say: string,
  why: string,
  isDone: LessonStep['isDone'],
): LessonStep => ({ id, place, say, why, isDone, isKept: false });

/** A step that the record remembers. */
export const keptStep = (
  id: string,
  place: LessonStep['place'],
  say: string,
  why: string,
  isDone: LessonStep['isDone'],
): LessonStep => ({ ...step(id, place, say, why, isDone), isKept: true });

export const layOutMeters = (units: readonly string[]): LessonStep =>
  step(
    'meters',
    'practice',
    'Lay out the further practice meters.',
    'Amps, watts, ohms and temperature need meters of their own; the pair reads volts alone.',
    ({ meters }) => units.every((unit) => meters.some((meter) => meter.kind === 'practice' && meter.unit === unit)),
  );

export const leaveOther = (sitting: Sitting): LessonStep =>
  step(
    'leave-other',
    'bench',
    'Nothing else on the bench: end a session that is open with another supply, winding or build.',
    'A session is one sitting with one build and one supply. What it kept stays in the record.',
    (facts) => !facts.isElsewhere && (facts.session === null || fits(facts, sitting)),
  );

export const openSession = (sitting: Sitting, say: string, why: string): LessonStep =>
  step('session', 'bench', say, why, (facts) => fits(facts, sitting));

export const setUp = (procedure: string, channels: readonly string[], say: string, why: string): LessonStep =>
  step('set-up', 'set-up', say, why, ({ guard }) => {
    const chosen = guard.setUp;
    return (
      chosen?.procedureId === procedure &&
      channels.every((id) => chosen.channels.some((channel) => channel.id === id && channel.meter !== null))
    );
  });

/** Dead is proved: it stands, or power was declared on it since. */
const isProved = ({ guard }: LessonFacts): boolean =>
  guard.kind === 'isolated' || guard.kind === 'ready' || isPowered(guard);

const prove = (): LessonStep =>
  step(
    'prove',
    'prove',
    'Prove it dead: the first three lines, then a known source, every pair, the known source again.',
    'A meter that shows nothing may be broken. An indicator is quicker here; a meter does as well.',
    isProved,
  );

const check = (): LessonStep =>
  step(
    'check',
    'readings',
    'Go through the checks, take the limits, then Ready check.',
    'Each line is there because somebody was hurt without it. What the program can see it ticks itself.',
    ({ guard }) => guard.kind === 'ready' || isPowered(guard),
  );

const powerOn = (why: string): LessonStep =>
  step('power-on', 'readings', 'Hands off, everyone clear: hold Power on until it has taken.', why, ({ guard }) =>
    isPowered(guard),
  );

export const powerOff = (why: string): LessonStep =>
  step('power-off', 'readings', 'Power off: F8, from anywhere.', why, ({ guard }) => !isPowered(guard));

/** Everything between the set-up and power. */
export const toPower = (why: string): readonly LessonStep[] => [prove(), check(), powerOn(why)];

export const endRun = (say: string, why: string): LessonStep =>
  step('end-run', 'readings', say, why, ({ runs }) => runs.every(({ run }) => run.ending !== 'running'));
