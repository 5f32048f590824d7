import { directAmps, directVolts, ohms } from './channels.ts';
import { proposed, timesOf } from './bound.ts';
import { numberOf, wordOf, yesOrNo, type Answers } from './field.ts';
import { given, inputOf, ready, typedCelsius, waiting, type RunMaterial, type StandingPoint } from './material.ts';
import { inOrder, usual, type Procedure } from './procedure.ts';

const ruledOut = (answers: Answers) => [
  ...(wordOf(answers, 'sourceOverTenMilliamps') === 'no' ? (['test-source-over-10-ma'] as const) : []),
  ...(wordOf(answers, 'underTwoOhm') === 'no' ? (['winding-under-2-ohm'] as const) : []),
];

const byFourWires = (point: StandingPoint): boolean =>
  inputOf(point, directVolts.id) !== undefined && inputOf(point, directAmps.id) !== undefined;

const isReversed = ({ fields }: StandingPoint): boolean => wordOf(fields, 'polarity') === 'reversed';

/** The reversed reading with its sign: a meter that was turned round with the source shows it positive. */
function reversedVolts(point: StandingPoint) {
  const volts = inputOf(point, directVolts.id);
  return volts === undefined ? undefined : { ...volts, value: -Math.abs(volts.value) };
}

function work({ points, answers, windings }: RunMaterial) {
  const celsius = typedCelsius(numberOf(answers, 'celsius') ?? 20);
  const fields = windings.find(({ windingId }) => windingId === numberOf(answers, 'windingId'))?.fields;
  const metal = fields === undefined || fields.metal === 'not-known' ? null : fields.metal;
  const four = points.filter(byFourWires);
  const forward = four.findLast((point) => !isReversed(point));
  if (forward !== undefined) {
    const reversed = four.findLast(isReversed);
    return ready('four-wire-resistance', {
      amps: inputOf(forward, directAmps.id),
      volts: inputOf(forward, directVolts.id),
      ...given('voltsReversed', reversed === undefined ? undefined : reversedVolts(reversed)),
      celsius,
      ...given('metal', metal),
      ...given('ratedAmps', numberOf(answers, 'ratedAmps')),
    });
  }
  if (four.length > 0) return waiting('The reversed reading is kept: keep one with the current forward as well.');
  const two = points.findLast((point) => inputOf(point, ohms.id) !== undefined);
  if (two === undefined) return waiting('No point is kept yet.');
  return ready('two-wire-resistance', {
    ohms: inputOf(two, ohms.id),
    ...given('leadOhms', numberOf(two.fields, 'leadOhms')),
    celsius,
    ...given('metal', metal),
  });
}

/** The d.c. resistance of one winding: by four wires, or by two as a check. */
export const windingResistance: Procedure = {
  ...usual,
  id: 'winding-resistance',
  title: 'Resistance of a winding',
  purpose: 'Its ohms at a known temperature: for copper loss, metal, drop, and the heat run by resistance.',
  step: 'survey',
  energised: false,
  channels: [directVolts, directAmps, ohms],
  checklists: () => ['R'],
  ruledOut,
  asks: [
    { id: 'windingId', label: 'Winding', required: true, kind: 'winding' },
    {
      id: 'celsius',
      label: 'Temperature of the winding',
      hint: 'Hours at rest in the room: that of the room.',
      required: true,
      kind: 'number',
      unit: '°C',
      atLeast: -30,
      atMost: 250,
      preset: 'ambient',
    },
    yesOrNo(
      'sourceOverTenMilliamps',
      'A source of more than 10 mA?',
      'A bench source, or a battery through a resistor.',
    ),
    yesOrNo('underTwoOhm', 'Under about 2 ohm?', 'Then two wires are a check only.'),
    {
      id: 'ratedAmps',
      label: 'Amps the winding is rated for',
      required: false,
      kind: 'number',
      unit: 'A',
      atLeast: 0.001,
      atMost: 1000,
    },
  ],
  fields: [
    {
      id: 'polarity',
      label: 'Current',
      required: true,
      ofChannel: directAmps.id,
      kind: 'choice',
      options: [
        { value: 'forward', label: 'Forward' },
        { value: 'reversed', label: 'Reversed' },
      ],
    },
    {
      id: 'leadOhms',
      label: 'Leads held together, two wires',
      required: false,
      ofChannel: ohms.id,
      kind: 'number',
      unit: 'Ω',
      atLeast: 0,
      atMost: 10,
    },
  ],
  refuses: (_bench, _answers, filled) => {
    const four = filled.has(directVolts.id) && filled.has(directAmps.id);
    return four || filled.has(ohms.id)
      ? null
      : { field: '', sentence: 'Fill both the volts and the current, or the ohms by two wires.' };
  },
  limits: () => proposed([], timesOf('R')),
  cautions: ['c-kick', 'c-core'],
  steps: () =>
    inOrder(
      'Plug out, proved dead, capacitors off. Every other winding: ends insulated, hands off.',
      'Four wires: current clips outside, millivolt clips inside them, on the metal of the winding itself. Under 15 % of its rated current.',
      'Wait until both stand still: the core takes its time. Keep the point with the current forward.',
      'Bring the current to zero, wait, reverse it, keep the second point: the contacts’ own volts drop out.',
      'Bring the current to zero before anything is unclipped.',
    ),
  keeps: 'points',
  calculation: 'four-wire-resistance',
  work,
};
