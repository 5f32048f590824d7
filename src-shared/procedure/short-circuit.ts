import { lineAmps, primaryVolts, watts, windingCelsius } from './channels.ts';
import { fedBound, proposed, timesOf } from './bound.ts';
import { numberOf, wordOf, type Answers } from './field.ts';
import {
  given,
  inputOf,
  ready,
  turnsInput,
  typedCelsius,
  waiting,
  type RunMaterial,
  type StandingPoint,
} from './material.ts';
import { inOrder, poweredCautions, usual, type Procedure } from './procedure.ts';

/** A winding in a short test warms by no more than this: common practice, no source. */
const windingKelvin = 20;
const roomCelsius = 25;

/** The rated amps, and never more than the fuse of the feed. */
const ampsUpTo = (channel: string, rated: number | null, fuse: number | null) => ({
  channel,
  max: rated === null || fuse === null ? (rated ?? fuse) : Math.min(rated, fuse),
  hardMax: fuse,
});

const side = (answers: Answers) => (wordOf(answers, 'side') === 'low' ? 'low' : 'high');

/** High turns over low of the fed winding and the shorted one; undefined when one of them is not known. */
function turnsRatio({ windings, fedWindingId, answers }: RunMaterial) {
  const fed = turnsInput(windings.find(({ windingId }) => windingId === fedWindingId));
  const shorted = turnsInput(windings.find(({ windingId }) => windingId === numberOf(answers, 'shortedWindingId')));
  if (fed === undefined || shorted === undefined) return undefined;
  const [high, low] = side(answers) === 'high' ? [fed, shorted] : [shorted, fed];
  const [over, under] = [valueOf(high), valueOf(low)];
  return { value: over.value / under.value, u: (over.value / under.value) * Math.hypot(over.part, under.part) };
}

const valueOf = (turns: number | { readonly value: number; readonly u: number }) =>
  typeof turns === 'number' ? { value: turns, part: 0 } : { value: turns.value, part: turns.u / turns.value };

function shortInput(material: RunMaterial, point: StandingPoint) {
  const warm = inputOf(point, windingCelsius.id);
  return {
    volts: inputOf(point, primaryVolts.id),
    amps: inputOf(point, lineAmps.id),
    ...given('watts', inputOf(point, watts.id)),
    ...given('celsius', warm ?? (material.ambientCelsius === null ? null : typedCelsius(material.ambientCelsius))),
  };
}

/** Winding resistance and leakage reactance, from a low voltage into a shorted winding. */
export const shortCircuit: Procedure = {
  ...usual,
  id: 'short-circuit',
  title: 'Short-circuit test',
  purpose: 'Impedance, resistance and leakage reactance of the pair, from a few volts into a shorted winding.',
  step: 'prove',
  energised: true,
  channels: [primaryVolts, lineAmps, watts, windingCelsius],
  checklists: () => ['X'],
  asks: [
    { id: 'shortedWindingId', label: 'Winding that is shorted', required: true, kind: 'winding' },
    {
      id: 'side',
      label: 'The fed winding is the one with',
      required: true,
      kind: 'choice',
      options: [
        { value: 'high', label: 'More turns' },
        { value: 'low', label: 'Fewer turns' },
      ],
    },
    {
      id: 'ratedAmps',
      label: 'Rated amps of the fed winding',
      hint: 'The limit.',
      required: true,
      kind: 'number',
      unit: 'A',
      atLeast: 0.001,
      atMost: 1000,
    },
  ],
  notYet: ({ supply, windings }) => {
    if (supply.kind === 'mains' || supply.kind === 'mains-through-lamp') {
      return 'Only from a source that cannot give full volts into a short: an adjustable or a low-voltage one.';
    }
    return windings.length < 2 ? 'The build has one winding: another is shorted in this test.' : null;
  },
  refuses: ({ fedWindingId }, answers) =>
    numberOf(answers, 'shortedWindingId') === fedWindingId
      ? { field: 'shortedWindingId', sentence: 'The winding that is fed cannot be the shorted one.' }
      : null,
  limits: (bench, touchVolts, answers) =>
    proposed(
      [
        fedBound('primary-volts', bench, touchVolts),
        ampsUpTo('line-amps', numberOf(answers, 'ratedAmps'), bench.supply.fuseAmps ?? null),
        { channel: 'winding-temperature', max: roomCelsius + windingKelvin },
      ],
      timesOf('X'),
    ),
  cautions: [...poweredCautions, 'c-shunt', 'c-hot'],
  steps: () =>
    inOrder(
      'The low-voltage winding shorted by a bolted copper link. Source at zero. The mains plug is not fitted.',
      'Power on and turn up slowly, to the rated amps at most.',
      'When all have settled keep the point: under 30 s. Two minutes between points, so that it stays cold.',
      'Shunts in: the figure holds for this current only.',
    ),
  keeps: 'points',
  calculation: 'short-circuit',
  work: (material) => {
    const point = material.points.at(-1);
    if (point === undefined) return waiting('No point is kept yet.');
    const input = shortInput(material, point);
    const ratio = turnsRatio(material);
    const earlier = material.earlierNoLoad;
    const whole =
      earlier?.watts === undefined || ratio === undefined || !('watts' in input)
        ? []
        : [
            {
              calculation: 'equivalent-circuit',
              input: {
                openCircuit: {
                  volts: earlier.volts,
                  amps: earlier.amps,
                  watts: earlier.watts,
                  side: side(material.answers),
                  ...given('windingOhms', earlier.primaryOhms),
                },
                shortCircuit: { ...input, side: side(material.answers) },
                turnsRatio: ratio,
                referTo: side(material.answers),
              },
            },
          ];
    return ready('short-circuit', input, () => whole);
  },
};
