import { ambient, averageVolts, coreCelsius, lineAmps, lineHertz, primaryVolts, watts } from './channels.ts';
import { fedBound, proposed, timesOf } from './bound.ts';
import { numberOf, wordOf, yesOrNo, type Answers } from './field.ts';
import { ready, waiting } from './material.ts';
import { expectationAsks, expectationMissing, expectationSeen, noLoadInput, turnsAddedRuledOut } from './no-load.ts';
import { inOrder, poweredCautions, usual, type Procedure } from './procedure.ts';
import { curveInput } from './sweep-curve.ts';

/** A sweep ends well before the iron is hot: common practice, no source. */
const coreAtMostCelsius = 80;
/** Above the nominal point the current climbs steeply: twice it, or 80 % of the breaker (common practice, no source). */
const timesExpected = 2;

const ruledOut = (answers: Answers) => [
  ...turnsAddedRuledOut(answers),
  ...(wordOf(answers, 'temporaryTurns') === 'no' ? (['temporary-turns'] as const) : []),
];

/** The excitation curve: current against volts, by a variable transformer or by temporary extra primary turns. */
export const noLoadSweep: Procedure = {
  ...usual,
  id: 'no-load-sweep',
  title: 'No-load sweep',
  purpose: 'The curve of current against volts per turn, and what added primary turns would do to it.',
  step: 'prove',
  energised: true,
  channels: [primaryVolts, lineAmps, watts, averageVolts, coreCelsius, ambient, lineHertz],
  checklists: () => ['B', 'N', 'S'],
  ruledOut,
  asks: [
    ...expectationAsks,
    yesOrNo(
      'temporaryTurns',
      'By temporary extra primary turns?',
      'Yes: each point carries its turns. No: by a variable transformer, at the turns that are wound.',
    ),
  ],
  fields: [
    {
      id: 'turns',
      label: 'Turns carrying current',
      hint: 'Every turn in circuit at this point, temporary ones included.',
      required: true,
      kind: 'number',
      unit: '',
      atLeast: 0.5,
      atMost: 100_000,
      preset: 'primary-turns',
    },
  ],
  refuses: (_bench, answers) => expectationMissing(answers),
  // Every point asks for its turns, so the line stands by itself.
  seen: (setUp, answers) => ({ ...expectationSeen(setUp, answers), 's-count': true }),
  limits: (bench, touchVolts, answers) => {
    const expected = numberOf(answers, 'expectedAmps');
    const ofFuse = bench.supply.fuseAmps === undefined ? null : bench.supply.fuseAmps * 0.8;
    const wanted = [expected === null ? null : expected * timesExpected, ofFuse, bench.supply.ampsAtMost ?? null];
    const known = wanted.filter((one) => one !== null);
    return proposed(
      [
        fedBound('primary-volts', bench, touchVolts),
        { channel: 'line-amps', max: known.length === 0 ? null : Math.min(...known), hardMax: ofFuse },
        { channel: 'core-temperature', max: coreAtMostCelsius },
      ],
      timesOf('S'),
    );
  },
  cautions: [...poweredCautions, 'c-hot'],
  steps: () =>
    inOrder(
      'Nothing on any secondary: each end insulated by itself.',
      'Variable transformer: start at zero, go up only. Temporary turns: begin with the most, where the current is least.',
      'At each step wait until all have settled, say how many turns carry the current, keep the point. At most 30 s a point.',
      'Six points or more, two of them above nominal if the limit allows: the knee shows only there.',
      'Bring it down slowly to zero before power off: that leaves the core without remanence.',
    ),
  keeps: 'points',
  calculation: 'excitation',
  work: (material) => {
    const newestFirst = material.points.toReversed().map((point) => noLoadInput(material, point));
    const [last, ...earlier] = newestFirst;
    if (last === undefined) return waiting('No point is kept yet.');
    const pointByPoint = (inputs: typeof newestFirst) => () =>
      inputs.map((input) => ({ calculation: 'no-load', input }));
    const curve = curveInput(material);
    return curve === null
      ? ready('no-load', last, pointByPoint(earlier))
      : ready('excitation', curve, pointByPoint(newestFirst));
  },
};
