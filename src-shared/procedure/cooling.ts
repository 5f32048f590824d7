import { ambient, coolingOhms, coreCelsius, lineAmps, primaryVolts } from './channels.ts';
import { ampsBound, fedBound, heatBounds, insulationAsk, proposed, timesOf } from './bound.ts';
import { coolingInput, windingRise } from './heat.ts';
import { ready, waiting } from './material.ts';
import { inOrder, poweredCautions, usual, type Procedure } from './procedure.ts';

/** The mean temperature of a winding at switch-off, from its resistance while it cools. */
export const cooling: Procedure = {
  ...usual,
  id: 'cooling',
  title: 'Cooling after switch-off',
  purpose: 'How hot the winding was at the instant of switch-off, from its resistance while it cools.',
  step: 'prove',
  energised: true,
  channels: [primaryVolts, { ...coolingOhms, required: true }, lineAmps, coreCelsius, ambient].map((channel) =>
    channel.id === lineAmps.id ? { ...channel, required: false } : channel,
  ),
  checklists: () => ['B', 'K'],
  asks: [insulationAsk],
  notYet: ({ fedWindingId }) =>
    fedWindingId === null ? 'Say which winding is fed: it is the one whose resistance is read.' : null,
  limits: (bench, touchVolts, answers) =>
    proposed(
      [fedBound('primary-volts', bench, touchVolts), ampsBound('line-amps', bench, null, 1), ...heatBounds(answers)],
      timesOf('K'),
    ),
  cautions: [...poweredCautions, 'c-attend', 'c-hot', 'c-kick'],
  steps: () =>
    inOrder(
      'The ohms leads end in a shrouded socket that only this plug fits. Nothing of them is on the winding with power on.',
      'Cold resistance taken earlier with the same set, and noted on the winding.',
      'Warm it up with power on. Then F8 at the instant of switching off, plug pulled and in the hand.',
      'Voltmeter seen below the threshold: now the plug goes into the measuring socket. Metal is not touched before the full proof.',
      'First reading within 30 s, then one every 20 s or so for some minutes.',
    ),
  keeps: 'readings',
  calculation: 'cooling',
  continuous: [coolingOhms.id, coreCelsius.id, ambient.id],
  work: (material) => {
    if (material.offAtMs === null) return waiting('It begins with power off: F8 at the instant of switching off.');
    const input = coolingInput(material);
    return input === null
      ? waiting('A curve needs three readings of the resistance or more, the first within 30 s.')
      : ready('cooling', input, (results) => windingRise(material, results));
  },
};
