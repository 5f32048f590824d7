import type { SetUp } from '../interlock/bench.ts';
import { adjustment, outputVoltsAsk } from './adjustment.ts';
import { ambient, averageVolts, coreCelsius, lineAmps, lineHertz, openVolts, primaryVolts, watts } from './channels.ts';
import { ampsBound, fedBound, proposed, timesOf, type Bounded } from './bound.ts';
import { numberOf, wordOf, yesOrNo, type Answers, type Field } from './field.ts';
import { fedOhms, given, inputOf, ready, waiting, type RunMaterial, type StandingPoint } from './material.ts';
import { inOrder, poweredCautions, usual, type Procedure } from './procedure.ts';

/** What a no-load current is expected to be, and whether added turns could be the wrong way round. */
export const expectationAsks: readonly Field[] = [
  yesOrNo('turnsAdded', 'Primary turns added since it was last measured?', 'Wound the wrong way they subtract.'),
  {
    id: 'addedTurns',
    label: 'Turns added',
    hint: 'Tells what the current would be if they were wound the wrong way.',
    required: false,
    kind: 'number',
    unit: '',
    atLeast: 0.5,
    atMost: 10_000,
  },
  {
    id: 'expectedAmps',
    label: 'Amps expected',
    hint: 'From the curve, or from the mass. Sets the limit, and tells a wrong-way turn within a second.',
    required: false,
    kind: 'number',
    unit: 'A',
    atLeast: 0.001,
    atMost: 100,
  },
  {
    id: 'expectedWatts',
    label: 'Watts expected',
    hint: 'As an earlier point read at these volts. Tells a shorted turn from a gap.',
    required: false,
    kind: 'number',
    unit: 'W',
    atLeast: 0.01,
    atMost: 10_000,
  },
];

/** With added turns an expectation is a must: without it nobody sees at once that they oppose. */
export const expectationMissing = (answers: Answers) =>
  wordOf(answers, 'turnsAdded') === 'yes' && numberOf(answers, 'expectedAmps') === null
    ? {
        field: 'expectedAmps',
        sentence: 'Turns were added: say what current is expected, so that turns wound the wrong way show at once.',
      }
    : null;

/** What the program sees of the no-load list: an expectation, and which kind of meter reads the current. */
export const expectationSeen = (_setUp: SetUp, answers: Answers) => ({
  'n-exp': numberOf(answers, 'expectedAmps') !== null,
});

export const turnsAddedRuledOut = (answers: Answers) =>
  wordOf(answers, 'turnsAdded') === 'no' ? (['turns-added'] as const) : [];

/** A core that only stands with power on for minutes warms by no more than this: common practice, no source. */
const coreKelvin = 20;
const roomCelsius = 25;

export const coreStaysCool: Bounded = { channel: 'core-temperature', max: roomCelsius + coreKelvin };

/** The input of `no-load` that one point amounts to. */
export function noLoadInput(material: RunMaterial, point: StandingPoint) {
  const ammeter = material.responding['line-amps'];
  const hertz = inputOf(point, 'line-hertz');
  return {
    volts: inputOf(point, 'primary-volts'),
    amps: inputOf(point, 'line-amps'),
    ...given('watts', inputOf(point, 'watts')),
    hertz: hertz ?? material.supply.hertz,
    ...given('primaryOhms', fedOhms(material)),
    ...given('voltsAverageResponding', inputOf(point, 'average-volts')),
    ...(ammeter === undefined ? {} : { ammeterKind: ammeter === 'average' ? 'average-responding' : ammeter }),
  };
}

/** Current, power and loss at one voltage with nothing on the secondaries. */
export const noLoad: Procedure = {
  ...usual,
  id: 'no-load',
  title: 'No-load current and loss',
  purpose: 'What the core draws and loses with nothing on its secondaries, at one voltage.',
  step: 'prove',
  energised: true,
  channels: [primaryVolts, lineAmps, watts, openVolts, averageVolts, coreCelsius, ambient, lineHertz],
  checklists: () => ['B', 'N'],
  ruledOut: turnsAddedRuledOut,
  asks: [...expectationAsks, outputVoltsAsk],
  refuses: (_bench, answers) => expectationMissing(answers),
  seen: expectationSeen,
  limits: (bench, touchVolts, answers) =>
    proposed(
      [
        fedBound('primary-volts', bench, touchVolts),
        ampsBound('line-amps', bench, numberOf(answers, 'expectedAmps'), 1.5),
        { ...coreStaysCool },
      ],
      timesOf('N'),
    ),
  cautions: [...poweredCautions, 'c-hot'],
  steps: () =>
    inOrder(
      'Nothing on any secondary: each end insulated by itself. A voltmeter on an output of less than 50 V is next to nothing.',
      'Voltmeter on the terminals of the winding, behind the ammeter. Ammeter on a range where the reading stays under half of it: the current is peaky.',
      'Power on. Dim lamp or a current near the expected one: go on. Bright, or three times as much: power off.',
      'After the first 10 s, when all have settled, keep the point. Power off.',
      'With watts the loss is known; without them keep the amps all the same, and find the watts without a wattmeter.',
    ),
  keeps: 'points',
  calculation: 'no-load',
  work: (material) => {
    const point = material.points.at(-1);
    return point === undefined
      ? waiting('No point is kept yet.')
      : ready('no-load', noLoadInput(material, point), () => adjustment(material, point));
  },
};
