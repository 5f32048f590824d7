import type { BenchFacts, SetUp } from '../interlock/bench.ts';
import { bounds } from '../interlock/bounds.ts';
import {
  acAmps,
  acVolts,
  ambient,
  coreCelsius,
  lineHertz,
  lugCelsius,
  openVolts,
  primaryVolts,
  secondaryVolts,
  watts,
  windingCelsius,
} from './channels.ts';
import { fedBound, heatBounds, insulationAsk, outputBound, proposed, timesOf } from './bound.ts';
import { adjustmentUnderLoad } from './adjustment.ts';
import { numberOf, wordOf, yesOrNo, type Answers } from './field.ts';
import { heatInput, whileOn } from './heat.ts';
import { given, inputOf, ready, waiting, type Calculated, type RunMaterial, type SeriesPoint } from './material.ts';
import { inOrder, poweredCautions, usual, type Procedure } from './procedure.ts';

/** Hotter lugs than this are loose ones: common practice, no source. */
const lugAtMostCelsius = 90;
/** Of the current that was planned: common practice, no source. */
const timesPlanned = 1.1;

const ofSecondary = { on: 'secondary', volts: secondaryVolts } as const;
const outputVolts = { ...openVolts, required: true };
const outputAmps = acAmps('secondary-amps', 'Secondary amps', { required: true, ...ofSecondary });
const lugVolts = acVolts('lug-volts', 'Volts across a lug', { ...ofSecondary });

/** Most points that the calculation takes; continuous readings are paired up to it. */
const mostPoints = 100;

const nearest = (series: readonly SeriesPoint[], atMs: number): SeriesPoint | undefined =>
  series.reduce<SeriesPoint | undefined>(
    (best, one) => (best === undefined || Math.abs(one.atMs - atMs) < Math.abs(best.atMs - atMs) ? one : best),
    undefined,
  );

const measured = (point: SeriesPoint | undefined) =>
  point === undefined
    ? undefined
    : { value: point.value, u: point.u, ...(point.shared === null ? {} : { shared: point.shared }) };

/** Continuous readings of volts, each with the amps and line volts read nearest to it. */
function pairedReadings(material: RunMaterial) {
  const volts = whileOn(material, outputVolts.id).slice(-mostPoints);
  const [amps, line] = [whileOn(material, outputAmps.id), whileOn(material, primaryVolts.id)];
  return amps.length === 0
    ? []
    : volts
        .filter(({ value }) => value > 0)
        .map((point) => ({
          amps: measured(nearest(amps, point.atMs)),
          volts: measured(point),
          ...given('primaryVolts', measured(nearest(line, point.atMs))),
        }));
}

function besides(material: RunMaterial): readonly Calculated[] {
  return [coreCelsius.id, windingCelsius.id].flatMap((channel) =>
    whileOn(material, channel).length < 3 ? [] : [{ calculation: 'heat-run', input: heatInput(material, channel, {}) }],
  );
}

const overTouch = (bench: BenchFacts): boolean => {
  const volts = secondaryVolts(bench);
  return volts !== null && volts > bounds.touchVolts.preset;
};

/** What stands at the output with power on, and whether anybody could work out what a short would carry. */
const seen = ({ bench }: SetUp, answers: Answers) => ({
  'l-v2': secondaryVolts(bench) !== null && numberOf(answers, 'faultAmps') !== null,
});

/** Volts against amps of the output, with the sag of the line taken out. */
export const loadedRun: Procedure = {
  ...usual,
  id: 'loaded-run',
  title: 'Loaded run',
  purpose: 'Output volts against amps, with the sag of the house wiring taken out; and what gets hot.',
  step: 'prove',
  energised: true,
  channels: [
    outputVolts,
    outputAmps,
    primaryVolts,
    watts,
    coreCelsius,
    windingCelsius,
    lugCelsius,
    lugVolts,
    ambient,
    lineHertz,
  ],
  checklists: () => ['B', 'L'],
  ruledOut: (answers) => (wordOf(answers, 'paralleled') === 'no' ? ['windings-paralleled'] : []),
  asks: [
    {
      id: 'plannedAmps',
      label: 'Amps planned for the output',
      hint: 'The limit is 1.1 times it.',
      required: true,
      kind: 'number',
      unit: 'A',
      atLeast: 0.001,
      atMost: 2000,
    },
    {
      id: 'faultAmps',
      label: 'Amps into a short of the output',
      hint: 'Output volts over the resistance of the windings. Fuse and cable have to stand it.',
      required: true,
      kind: 'number',
      unit: 'A',
      atLeast: 0.001,
      atMost: 100_000,
    },
    insulationAsk,
    yesOrNo('paralleled', 'Strands or windings in parallel?'),
    {
      id: 'minutes',
      label: 'Minutes with power on, for a continuous run',
      hint: 'Left empty: 60 s a point.',
      required: false,
      kind: 'number',
      unit: 'min',
      atLeast: 1,
      atMost: 480,
    },
    yesOrNo('outputOver50', 'An output over 50 V a.c., and the caution on it read?'),
  ],
  notYet: (bench) => {
    if (!bench.windings.some(({ role }) => role === 'secondary')) return 'The build has no secondary to load.';
    return secondaryVolts(bench) === null
      ? 'The volts of a secondary are not known: say its turns, and those of the fed winding, first.'
      : null;
  },
  refuses: (bench, answers) =>
    overTouch(bench) && wordOf(answers, 'outputOver50') !== 'yes'
      ? {
          field: 'outputOver50',
          sentence: 'An output over 50 V a.c. needs protection against touch that this program does not judge.',
        }
      : null,
  seen,
  limits: (bench, touchVolts, answers) => {
    const planned = numberOf(answers, 'plannedAmps');
    const minutes = numberOf(answers, 'minutes');
    const times = timesOf('L');
    return proposed(
      [
        fedBound('primary-volts', bench, touchVolts),
        outputBound('secondary-volts', secondaryVolts(bench)),
        { channel: 'secondary-amps', max: planned === null ? null : planned * timesPlanned },
        ...heatBounds(answers),
        { channel: 'lug-temperature', max: lugAtMostCelsius },
      ],
      minutes === null ? times : { ...times, runSeconds: minutes * 60 },
    );
  },
  cautions: [...poweredCautions, 'c-out50', 'c-shunt', 'c-fuse', 'c-hot'],
  steps: () =>
    inOrder(
      'Load rated for these volts and amps, on a surface that does not burn, its metal covered. Lugs tight.',
      'One point with next to no load, then up in steps. At most 60 s a point unless the plan says longer.',
      'When all have settled, keep the point: the line volts go with it, so that the sag of the house is taken out.',
      'Millivolts across each lug under load: the hottest thing on the bench is often a lug.',
      'Continuous: let it record; temperatures are fitted as in a heat run.',
    ),
  keeps: 'points',
  calculation: 'loaded-run',
  continuous: [outputVolts.id, outputAmps.id, primaryVolts.id, coreCelsius.id, windingCelsius.id, ambient.id],
  work: (material) => {
    const kept = material.points.map((point) => ({
      amps: inputOf(point, outputAmps.id),
      volts: inputOf(point, outputVolts.id),
      ...given('primaryVolts', inputOf(point, primaryVolts.id)),
      ...given('watts', inputOf(point, watts.id)),
    }));
    const isContinuous = numberOf(material.answers, 'minutes') !== null;
    const points = kept.length > 0 || !isContinuous ? kept : pairedReadings(material);
    if (points.length < 2) return waiting('Two points or more, at different amps.');
    return ready(
      'loaded-run',
      { points, referenceVolts: material.supply.volts, hertz: material.supply.hertz },
      (results) => [...besides(material), ...adjustmentUnderLoad(material, points.length, results)],
    );
  },
};
