import type { CalculationName } from '../../calculation/table.ts';
import type { DemonstrationId } from '../../record/core.ts';
import {
  endRun,
  keptStep,
  layOutMeters,
  leaveOther,
  openSession,
  powerOff,
  runsBy,
  setUp,
  toPower,
  type Sitting,
} from './bench-steps.ts';
import type { Lesson, LessonFacts, LessonId, LessonStep } from './lesson.ts';

/** The invented core that every lesson is walked on: little is known of it, and it runs warm. */
export const lessonCore: DemonstrationId = 'dimmer-b';

/** A knee shows from so few points on; six are better. */
const pointsOfSweep = 4;
/** Two time constants of a core of this size, in minutes of its own time. */
const heatMinutes = 85;

const low: Sitting = { kinds: ['isolated-low-voltage'] };
const fullMains: Sitting = { kinds: ['mains', 'mains-through-lamp'] };
const variable: Sitting = { kinds: ['variable-transformer'] };

const isKeptIn =
  (procedures: readonly string[], calculations: readonly CalculationName[]) =>
  (facts: LessonFacts): boolean =>
    runsBy(facts, procedures).some(({ results }) =>
      results.some(({ calculation }) => calculations.some((name) => name === calculation)),
    );

const keepResult = (procedures: readonly string[], calculations: readonly CalculationName[], why: string): LessonStep =>
  keptStep('result', 'readings', 'Keep the result.', why, isKeptIn(procedures, calculations));

const turnsKnown: LessonStep = keptStep(
  'turns-known',
  'core',
  'Have turns on the primary: walk “The turns, at low voltage” first, or enter a count on the core’s page.',
  'Without them nobody can say how hard the iron is driven, nor what more turns would do.',
  ({ builds }) =>
    builds.some(({ windings }) =>
      windings.some(({ fields }) => fields.role === 'primary' && fields.turns.kind !== 'unknown'),
    ),
);

const hasPoint =
  (procedure: string, atLeast = 1) =>
  (facts: LessonFacts) =>
    runsBy(facts, [procedure]).some(({ points }) => points.length >= atLeast);

const hasNoLoadOf = ({ results, builds }: LessonFacts, number: 'first' | 'newest') => {
  const build = number === 'first' ? builds[0] : builds.at(-1);
  return results.some(({ calculation, buildId }) => calculation === 'no-load' && buildId === build?.buildId);
};

/** Turns were added to a primary when a build of this lesson was made. */
const hasAdded = ({ builds }: LessonFacts): boolean =>
  builds.some(({ windings }) =>
    windings.some(({ fields }) => fields.role === 'primary' && (fields.turnsAdded ?? 0) > 0),
  );

export const lessons: readonly Lesson[] = [
  {
    id: 'make-dead',
    title: 'Make it dead, and prove it',
    why: 'A meter that shows nothing may be broken. Known, circuit, known again is the only proof.',
    steps: [
      leaveOther(low),
      openSession(
        low,
        'Open a session on Dimmer core B: isolated low-voltage source, 24 V, fed into the primary.',
        'The gentlest start: an isolated source of few volts. The set-up decides which points have to be read.',
      ),
      setUp(
        'test-coil',
        ['primary-volts', 'coil-volts'],
        'Set up “Turns of the primary, by test coil” with the practice pair: bench meter on the primary, pocket meter on the coil.',
        'Which winding stands at what is known only when it is said what is clipped where.',
      ),
      keptStep(
        'proof',
        'prove',
        'Prove it dead with the practice bench meter: known source, every pair, known source again, a.c. and d.c.',
        'The same meter, leads, kind and range throughout: else the known reading says nothing of the zero between.',
        ({ proof }) => proof !== null,
      ),
    ],
  },
  {
    id: 'low-coil',
    title: 'The turns, at low voltage',
    why: 'At 12 to 48 V the primary’s own drop nearly vanishes, and a slip costs nothing.',
    steps: [
      leaveOther(low),
      openSession(
        low,
        'Open a session on Dimmer core B: isolated low-voltage source, 24 V, fed into the primary.',
        'Low excitation is the more accurate one, not only the calmer one.',
      ),
      setUp(
        'test-coil',
        ['primary-volts', 'coil-volts'],
        'Set up “Turns of the primary, by test coil”: bench meter on the primary, pocket meter on the coil, ranges not locked.',
        'They will be exchanged: locked for a volt on the coil, a meter would read over its range on the primary.',
      ),
      ...toPower('24 V on the primary, under 1 V on the coil.'),
      keptStep(
        'pair',
        'readings',
        'When both have settled, keep the pair with 10 coil turns.',
        'A pair of one moment: the supply wanders, and both see the same of it.',
        (facts) => runsBy(facts, ['test-coil']).some(({ pairs }) => pairs.length > 0),
      ),
      keptStep(
        'exchanged',
        'readings',
        'Exchange the two meters, say so with “meters exchanged”, and keep another pair.',
        'What one meter reads high it now reads high on the other side: in the mean of both the error goes.',
        (facts) => runsBy(facts, ['test-coil']).some(({ pairs }) => pairs.some(({ swapped }) => swapped)),
      ),
      powerOff('Readings are kept; nothing is gained by leaving it on.'),
      keptStep(
        'apply',
        'readings',
        'Put the turns on the primary.',
        'The result is kept with its doubt, and everything later counts from it.',
        ({ builds, results, runs }) =>
          builds.some(({ windings }) =>
            windings.some(
              ({ fields: { turns } }) =>
                turns.kind === 'estimated' &&
                results.some(
                  ({ resultId, runId }) => resultId === turns.resultId && runs.some(({ run }) => run.runId === runId),
                ),
            ),
          ),
      ),
      endRun('End the run.', 'A run takes readings until it is ended; what was kept stays.'),
    ],
  },
  {
    id: 'mains-coil',
    title: 'The turns, at mains',
    why: 'The same on the mains: more checks, one minute, and every other winding at its full volts.',
    steps: [
      leaveOther(fullMains),
      openSession(
        fullMains,
        'Open a session on Dimmer core B: mains through a series lamp, 230 V, fed into the primary.',
        'First power after any change goes through a lamp: bright and steady means stop, and nothing burns.',
      ),
      setUp(
        'test-coil',
        ['primary-volts', 'coil-volts'],
        'Set up “Turns of the primary, by test coil”: bench meter on the primary at 600 V, pocket meter on the coil at 20 V.',
        'Look at what each winding will stand at: on the mains no winding is a small thing.',
      ),
      ...toPower('Through the lamp less than 230 V arrive. A dim lamp is as it should be.'),
      keptStep(
        'pair',
        'readings',
        'When both have settled, keep the pair with 10 coil turns, within the minute.',
        'A saturated primary biases the ratio by its own drop: compare it with the low-voltage count.',
        (facts) => runsBy(facts, ['test-coil']).some(({ pairs }) => pairs.length > 0),
      ),
      powerOff('The minute is the limit: longer only warms it.'),
      keepResult(['test-coil'], ['test-coil'], 'Beside the count at low voltage it tells what the mains did to it.'),
      endRun('End the run.', 'A run takes readings until it is ended; what was kept stays.'),
    ],
  },
  {
    id: 'sweep',
    title: 'The no-load sweep',
    why: 'Where the current takes off tells how hard the core is driven, and what more turns would do.',
    steps: [
      turnsKnown,
      layOutMeters(['A', 'W']),
      leaveOther(variable),
      openSession(
        variable,
        'Open a session on Dimmer core B: variable transformer, 260 V at most, fed into the primary.',
        'Its output is joined to the mains at every setting: the knob changes the volts, not the danger.',
      ),
      setUp(
        'no-load-sweep',
        ['primary-volts', 'line-amps'],
        'Set up “No-load sweep”: bench meter on the primary, practice ammeter on line amps, practice power meter on watts.',
        'By a variable transformer, not by temporary turns; an expected current of 0.8 A sets the limit.',
      ),
      ...toPower('Turn the knob down to 30 % first: upwards only, so that remanence does not bend the curve.'),
      keptStep(
        'points',
        'readings',
        `Turn the knob up in steps: 30, 60, 80, 95 %. At each, when all have settled, keep the point. ${pointsOfSweep} at least.`,
        'Two points past the knee show it; without them the curve says nothing of more turns.',
        hasPoint('no-load-sweep', pointsOfSweep),
      ),
      powerOff('Down to zero first, then off: that leaves the core without remanence.'),
      keepResult(['no-load-sweep'], ['no-load', 'excitation'], 'Each point is kept with it as a no-load result.'),
      endRun('End the run.', 'A run takes readings until it is ended; what was kept stays.'),
    ],
  },
  {
    id: 'heat-run',
    title: 'The heat run',
    why: 'How hot it ends is seen long before it gets there, when the curve is read.',
    steps: [
      keptStep(
        'faster',
        'practice',
        'Let time run 60 times faster, before the run is begun.',
        'A core of this size needs hours. Simulated time is kept with the run and said wherever its times are shown.',
        ({ controls, runs }) =>
          controls.timeFactor > 1 ||
          runs.some(({ run }) => run.procedure === 'heat-run' && run.timeFactor !== undefined),
      ),
      layOutMeters(['A', '°C']),
      leaveOther(fullMains),
      openSession(
        fullMains,
        'Open a session on Dimmer core B: mains, 230 V, fed into the primary, ambient 21 °C.',
        'The rise is counted from the room: note its temperature.',
      ),
      setUp(
        'heat-run',
        ['primary-volts', 'line-amps', 'core-temperature'],
        'Set up “Heat run at no load”: bench meter, practice ammeter, and the practice thermometer on the core.',
        'The bead sits on the earthed core. Limits on temperature and on its rise stop what goes wrong unseen.',
      ),
      ...toPower('From here on stay with it: the alarm can only call you.'),
      keptStep(
        'recorded',
        'readings',
        `Let it record for ${heatMinutes} minutes of simulated time, and watch where the curve says that it ends.`,
        'Before one time constant the final value is worth nothing; after two it moves little.',
        (facts) => runsBy(facts, ['heat-run']).some(({ lastMs }) => lastMs >= heatMinutes * 60_000),
      ),
      powerOff('At the very instant of switching off: it marks where the cooling begins.'),
      keepResult(
        ['heat-run'],
        ['heat-run'],
        'Its final temperature, its time constant, and when the limit would come.',
      ),
      endRun('End the run.', 'Readings of the cooling are taken until it is ended.'),
      {
        id: 'as-it-is',
        place: 'practice',
        say: 'Let time run as it is again.',
        why: 'The next run would be simulated too.',
        isDone: ({ controls }) => controls.timeFactor === 1,
        isKept: false,
      },
    ],
  },
  {
    id: 'add-turns',
    title: 'Add primary turns',
    why: 'More turns, less flux: the current falls far more than the turns rise, and so does every secondary.',
    steps: [
      turnsKnown,
      keptStep(
        'before',
        'bench',
        'Have a no-load result of the core as found: the sweep left some; else take a no-load point on build 1.',
        'Without a before there is nothing that the after could be compared with.',
        (facts) => hasNoLoadOf(facts, 'first'),
      ),
      layOutMeters(['A', 'W']),
      keptStep(
        'build',
        'core',
        'On the core’s page: Next build, with 40 turns added to the primary.',
        'A build is never edited once it was measured: what was found stays with what it was found on.',
        hasAdded,
      ),
      leaveOther({ ...fullMains, onNewestBuild: true }),
      openSession(
        { ...fullMains, onNewestBuild: true },
        'Open a session on build 2 of Dimmer core B: mains, 230 V, fed into the primary.',
        'The same volts as before, else the iron is compared at another flux.',
      ),
      setUp(
        'no-load',
        ['primary-volts', 'line-amps'],
        'Set up “No-load current and loss”: turns added yes, 40; amps expected 0.3; bench meter, ammeter, power meter.',
        'Turns wound the wrong way round subtract. With an expectation that shows within a second.',
      ),
      ...toPower('About 0.3 A is expected; several amperes would mean that the turns oppose.'),
      keptStep(
        'point',
        'readings',
        'When all have settled, keep the point.',
        'After the first ten seconds, so that the switch-on has died away.',
        hasPoint('no-load'),
      ),
      powerOff('One point is all that is needed.'),
      keepResult(['no-load'], ['no-load'], 'Kept with build 2, beside what is kept of build 1.'),
      endRun('End the run.', 'A run takes readings until it is ended; what was kept stays.'),
    ],
  },
  {
    id: 'compare',
    title: 'Did it help?',
    why: 'A difference inside the meters’ error is none.',
    steps: [
      keptStep(
        'both',
        'bench',
        'Have a no-load result of both builds: the lessons before this one leave them.',
        'Like with like: the same test, the same volts, the same meters.',
        (facts) => hasNoLoadOf(facts, 'first') && facts.builds.length > 1 && hasNoLoadOf(facts, 'newest'),
      ),
      keptStep(
        'compared',
        'compare',
        'Put both builds beside each other, and read the sentence on top first.',
        'Changed, no change that these meters can see, or not comparable: each difference has its own doubt.',
        ({ hasCompared }) => hasCompared,
      ),
    ],
  },
];

/** The lesson of an id. */
export function lessonById(id: LessonId): Lesson {
  const found = lessons.find((lesson) => lesson.id === id);
  if (found === undefined) throw new Error(`A lesson without its steps: ${id}.`);
  return found;
}
