import { formatNumber } from '../../quantity/format.ts';
import { caution, type Caution } from '../answer.ts';
import type { Bench } from './bench.ts';
import type { ExcitationInput, ExcitationPoint } from './input.ts';
import type { Plans } from './model.ts';
import type { Prediction } from './predict.ts';

const n = (value: number) => formatNumber(value, 3);
/** Frequencies further apart than this are worth a word. */
const otherHertz = 0.02;
/** Flux density from which unknown steel is called hot, and the ceiling for long runs: common practice, no source. */
const highTesla = 1.6;
const longRunTesla = 1.4;

type Said = readonly [boolean, string, string];

/** What the points were taken with. */
function onPoints(
  given: ExcitationInput,
  bench: Bench,
  indices: readonly number[],
  { current }: Plans,
): readonly Said[] {
  const points = indices.flatMap((index) => given.points[index] ?? []);
  const kinds = (of: (point: ExcitationPoint) => string | undefined) =>
    new Set(points.flatMap((point) => of(point) ?? [])).size;
  const others = given.points.length - indices.length;
  const isSoft = points.some(
    ({ supplyKind, averageVolts }) => supplyKind === 'mains-through-lamp' && averageVolts === undefined,
  );
  const isExact = points.some(({ volts, amps }) =>
    [volts, amps].every(({ u, shared }) => u === 0 && shared === undefined),
  );
  const isSilent = points.some(({ volts, amps }) => volts.u === null || amps.u === null);
  const reference = bench.hertz?.value;
  const converted = points.some(
    ({ hertz }) => hertz !== undefined && reference !== undefined && Math.abs(hertz.value / reference - 1) > otherHertz,
  );
  const hasWatts = points.some(({ watts }) => watts !== undefined);
  return [
    [others > 0, 'other-core-state', `${others} points belong to another state of the core and were left out.`],
    [
      kinds(({ meterKind }) => meterKind) > 1,
      'mixed-meter-kinds',
      'The points were read with two kinds of meter, which differ on a peaky current.',
    ],
    [
      kinds(({ supplyKind }) => supplyKind) > 1,
      'mixed-supplies',
      'The points were fed from different supplies: a softer one draws less at the same volts.',
    ],
    [
      isSoft,
      'soft-supply',
      'Behind a series lamp a core draws 5 to 25 % less than on stiff mains at the same volts: read the average-responding volts as well, or take the points without it.',
    ],
    [
      points.some(({ meterKind }) => meterKind === 'average'),
      'average-amps',
      'An average-responding meter may read a peaky no-load current a fifth low: so are the predictions.',
    ],
    [reference === undefined, 'hertz-not-given', 'Without the frequency this is not to be compared with another run.'],
    [
      converted,
      'hertz-converted',
      'Points at another frequency were converted at equal flux: volts with the frequency, loss with its power 1 to 2.',
    ],
    [
      isSilent,
      'uncertainty-not-known',
      'The uncertainty of a reading is not known, so that of the predictions is not either.',
    ],
    [
      isExact,
      'readings-taken-as-exact',
      "A point without uncertainty counts as exact: the meter's own error is not in the result.",
    ],
    [
      given.primaryOhms === undefined,
      'primary-drop-not-taken-out',
      "Without the primary's resistance its drop is not taken out of the volts" +
        (hasWatts ? ', and its copper loss counts as the core’s.' : '.'),
    ],
    [
      given.primaryOhms !== undefined && !points.every(({ watts }) => watts !== undefined),
      'power-factor-assumed',
      "Where no watts were read, the iron's power factor was taken as 0.3 ± 0.3 for the primary's own drop (common practice).",
    ],
    [!hasWatts, 'loss-not-known', 'Loss not known: no point has watts.'],
    [
      current.members.length < 4,
      'few-points',
      'Fewer than four points that lie apart: how the curve bends between them is hardly known.',
    ],
  ];
}

/** What the predictions mean. */
function onPredictions(given: ExcitationInput, predictions: readonly Prediction[]): readonly Said[] {
  const beyond = predictions.filter(({ extrapolated }) => extrapolated).map(({ addedTurns }) => addedTurns);
  const added = predictions.filter(({ addedTurns }) => addedTurns > 0);
  const lowers = added.map(
    ({ addedTurns, secondaryVoltsFactor }) => `${addedTurns} more: ${n(100 * (1 - secondaryVoltsFactor.value))} % less`,
  );
  const opposing = added.flatMap(({ addedTurns, amps, ampsIfOpposing }) =>
    ampsIfOpposing === undefined
      ? []
      : [`${addedTurns}: about ${n(amps.value)} A if they aid, ${n(ampsIfOpposing.value)} A if they oppose`],
  );
  const flux = (above: number, upTo: number) =>
    predictions.filter(({ tesla }) => tesla !== undefined && tesla.value > above && tesla.value <= upTo);
  const list = (those: readonly Prediction[]) => those.map(({ addedTurns }) => addedTurns).join(', ');
  const [hot, warm] = [flux(highTesla, Infinity), flux(longRunTesla, highTesla)];
  return [
    [
      beyond.length > 0,
      'extrapolated',
      `Beyond the points the curve is only continued: added turns ${beyond.join(', ')}. Take points there.`,
    ],
    [lowers.length > 0, 'secondaries-lower', `More primary turns lower every secondary (${lowers.join('; ')}).`],
    [
      opposing.length > 0,
      'opposing-turns',
      `Added turns the wrong way round subtract. First power through a series lamp; then ${opposing.join('; ')}.`,
    ],
    [
      hot.length > 0,
      'high-flux',
      `Over ${highTesla} T (added turns ${list(hot)}): more than unknown steel is good for (common practice).`,
    ],
    [
      warm.length > 0,
      'long-run-flux',
      `Over ${longRunTesla} T (added turns ${list(warm)}): not for long runs in unknown steel (common practice).`,
    ],
    [
      given.addedTurns.some((turns) => turns < 0),
      'fewer-turns',
      'Fewer primary turns mean more flux, current and heat: leave the primary alone, or add to it.',
    ],
  ];
}

export function cautionsOf(
  given: ExcitationInput,
  bench: Bench,
  indices: readonly number[],
  plans: Plans,
  predictions: readonly Prediction[],
): readonly Caution[] {
  const said = [...onPoints(given, bench, indices, plans), ...onPredictions(given, predictions)];
  return said.flatMap(([applies, code, text]) => (applies ? [caution(code, text)] : []));
}
