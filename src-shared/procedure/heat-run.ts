import { insulationClasses } from '../calculation/insulation-class.ts';
import {
  ambient,
  coolingOhms,
  coreCelsius,
  lineAmps,
  lineHertz,
  primaryVolts,
  watts,
  windingCelsius,
} from './channels.ts';
import { ampsBound, heatBounds, insulationAsk, proposed, steadyBound, surfaceLimits, timesOf } from './bound.ts';
import { numberOf, wordOf, yesOrNo, type Answers } from './field.ts';
import { coolingInput, heatInput, whileOn } from './heat.ts';
import { ready, waiting, type Calculated, type RunMaterial } from './material.ts';
import { expectationSeen, turnsAddedRuledOut } from './no-load.ts';
import { inOrder, poweredCautions, usual, type Procedure } from './procedure.ts';

const byResistance = (answers: Answers): boolean => wordOf(answers, 'byResistance') === 'yes';

/** A curve needs as many points as it has unknowns: start, end and time constant. */
const fewestPoints = 3;

/** The limit that the surface is to stay under: the class less the hot spot, or what the trip is set to. */
function limitOf(answers: Answers): Readonly<Record<string, unknown>> {
  const letter = insulationClasses.find((one) => one === wordOf(answers, 'insulationClass'));
  return letter === undefined ? { limitCelsius: surfaceLimits(answers).max } : { insulationClass: letter };
}

function besides(material: RunMaterial): readonly Calculated[] {
  const limit = limitOf(material.answers);
  const winding =
    whileOn(material, windingCelsius.id).length < fewestPoints
      ? []
      : [{ calculation: 'heat-run', input: heatInput(material, windingCelsius.id, limit) }];
  const cooling = coolingInput(material);
  return cooling === null ? winding : [...winding, { calculation: 'cooling', input: cooling }];
}

/** The core warms at no load, or as it is fed: where it ends, and how long until a limit. */
export const heatRun: Procedure = {
  ...usual,
  id: 'heat-run',
  title: 'Heat run at no load',
  purpose: 'Where the temperature will end if it stays on, and how long until the limit.',
  step: 'prove',
  energised: true,
  channels: [
    primaryVolts,
    lineAmps,
    { ...coreCelsius, required: true },
    ambient,
    watts,
    windingCelsius,
    coolingOhms,
    lineHertz,
  ],
  checklists: (_supply, answers) => (byResistance(answers) ? ['B', 'N', 'H', 'K'] : ['B', 'N', 'H']),
  ruledOut: (answers) => [
    ...turnsAddedRuledOut(answers),
    ...(wordOf(answers, 'byResistance') === 'no' ? (['resistance-method'] as const) : []),
  ],
  asks: [
    insulationAsk,
    yesOrNo(
      'byResistance',
      'Winding by resistance after switch-off?',
      'Needs its cold ohms, taken after hours at rest.',
    ),
    yesOrNo('turnsAdded', 'Primary turns added since it was last measured?'),
    {
      id: 'expectedAmps',
      label: 'Amps at the start',
      hint: 'As the no-load point read. The limit is 1.3 times it.',
      required: false,
      kind: 'number',
      unit: 'A',
      atLeast: 0.001,
      atMost: 100,
    },
  ],
  refuses: (_bench, answers, filled) => {
    if (wordOf(answers, 'turnsAdded') === 'yes' && numberOf(answers, 'expectedAmps') === null) {
      return { field: 'expectedAmps', sentence: 'Turns were added: take a no-load point first and say what it read.' };
    }
    return byResistance(answers) && !filled.has(coolingOhms.id)
      ? { field: 'byResistance', sentence: 'Say who reads the ohms of the cooling winding.' }
      : null;
  },
  seen: expectationSeen,
  limits: (bench, touchVolts, answers) =>
    proposed(
      [
        steadyBound('primary-volts', bench, touchVolts),
        ampsBound('line-amps', bench, numberOf(answers, 'expectedAmps'), 1.3),
        ...heatBounds(answers),
      ],
      timesOf('H'),
    ),
  cautions: [...poweredCautions, 'c-attend', 'c-hot'],
  steps: () =>
    inOrder(
      'The whole thing has been hours in the room. Cold resistance taken, if the winding is to be found by resistance.',
      'Bead on the earthed core; ambient probe 1 m off, in the shade of the core.',
      'Power on, and stay with it. It records by itself; typed values are asked for in time.',
      'Two time constants or more make a final value; before one, none is to be relied on.',
      'Power off with F8 at the very instant: it marks the switch-off. Leave the run open for the cooling.',
    ),
  keeps: 'readings',
  calculation: 'heat-run',
  continuous: [coreCelsius.id, windingCelsius.id, ambient.id, coolingOhms.id],
  work: (material) => {
    const readings = whileOn(material, coreCelsius.id);
    if (material.onAtMs === null) return waiting('It begins with power on.');
    if (readings.length < fewestPoints) return waiting('A curve needs three readings of the core or more.');
    const input = heatInput(material, coreCelsius.id, limitOf(material.answers));
    return ready('heat-run', input, () => besides(material));
  },
};
