import { highestVolts, type BenchFacts } from '../interlock/bench.ts';
import { acVolts } from './channels.ts';
import { proposed, timesOf } from './bound.ts';
import { voltsLimit } from './default-limits.ts';
import { inputOf, ready, waiting } from './material.ts';
import { inOrder, poweredCautions, usual, type Procedure } from './procedure.ts';

/** Any of them may be the highest winding; joined they may add up to twice as much. */
const highest = (bench: BenchFacts): number | null => {
  const found = highestVolts(bench);
  return found.kind === 'known' ? found.volts : null;
};
const joined = (bench: BenchFacts): number | null => {
  const volts = highest(bench);
  return volts === null ? null : 2 * volts;
};

/** Which ends of two windings belong together, at low voltage. */
export const polarity: Procedure = {
  ...usual,
  id: 'polarity',
  title: 'Polarity of two windings',
  purpose: 'Whether two windings joined end to end add or subtract, and so how to join them.',
  step: 'prove',
  energised: true,
  channels: [
    acVolts('first-volts', 'First winding alone', { required: true, volts: highest }),
    acVolts('second-volts', 'Second winding alone', { required: true, on: 'secondary', volts: highest }),
    acVolts('joined-volts', 'Across both, joined', { required: true, on: 'secondary', volts: joined }),
  ],
  checklists: () => ['P'],
  oneMeterWillDo: true,
  notYet: ({ supply, windings }) => {
    if (supply.kind !== 'isolated-low-voltage')
      return 'Only at low voltage, from an isolated source: open a session on one.';
    return windings.length < 2 ? 'The build has one winding: polarity is between two.' : null;
  },
  limits: (bench, touchVolts) =>
    proposed(
      [{ channel: 'first-volts', max: voltsLimit(bench, highest(bench) ?? bench.supply.volts, touchVolts) }],
      timesOf('P'),
    ),
  cautions: [...poweredCautions],
  steps: () =>
    inOrder(
      'Feed one winding from the isolated low-voltage source; never put mains on windings that are joined.',
      'Read each of the two windings alone.',
      'Power off. Join one end of the first to one end of the second; the meter goes on the two ends that are left.',
      'Power on, read across both, keep the point. More than either alone: they add.',
    ),
  keeps: 'points',
  calculation: 'polarity',
  work: ({ points }) => {
    const point = points.at(-1);
    return point === undefined
      ? waiting('No point is kept yet.')
      : ready('polarity', {
          firstVolts: inputOf(point, 'first-volts'),
          secondVolts: inputOf(point, 'second-volts'),
          joinedVolts: inputOf(point, 'joined-volts'),
        });
  },
};
