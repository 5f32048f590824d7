import { earthOhms, insulation } from './channels.ts';
import { proposed, timesOf } from './bound.ts';
import { numberOf, wordOf } from './field.ts';
import { given, inputOf, ready, typedCelsius, waiting, type RunMaterial, type StandingPoint } from './material.ts';
import { inOrder, usual, type Procedure } from './procedure.ts';

const ohmsInMegohm = 1e6;

function inputFor({ ambientCelsius }: RunMaterial, point: StandingPoint) {
  const ohms = inputOf(point, insulation.id);
  const megohms =
    ohms === undefined
      ? undefined
      : {
          ...ohms,
          value: ohms.value / ohmsInMegohm,
          u: ohms.u === null ? null : ohms.u / ohmsInMegohm,
          ...('shared' in ohms && ohms.shared !== undefined
            ? { shared: { ...ohms.shared, u: ohms.shared.u / ohmsInMegohm } }
            : {}),
        };
  return {
    megohms,
    testVolts: numberOf(point.fields, 'testVolts'),
    minimumMegohms: numberOf(point.fields, 'minimumMegohms'),
    ...given('between', wordOf(point.fields, 'between')),
    basis: wordOf(point.fields, 'basis'),
    oneEndOnCore: wordOf(point.fields, 'oneEndOnCore'),
    ...given('celsius', ambientCelsius === null ? null : typedCelsius(ambientCelsius)),
  };
}

/** Insulation between windings, or a winding and the core, against a figure that the person chose. */
export const insulationResistance: Procedure = {
  ...usual,
  id: 'insulation-resistance',
  title: 'Insulation resistance',
  purpose: 'Megohms between windings or to the core, against a figure that you choose and name.',
  step: 'survey',
  energised: false,
  channels: [insulation, earthOhms],
  checklists: () => ['I'],
  fields: [
    { id: 'between', label: 'Between', hint: 'Primary and core, say.', required: true, kind: 'text', longest: 60 },
    {
      id: 'testVolts',
      label: 'Test volts, d.c.',
      required: true,
      kind: 'number',
      unit: 'V',
      atLeast: 1,
      atMost: 10_000,
    },
    {
      id: 'minimumMegohms',
      label: 'Figure to meet',
      required: true,
      kind: 'number',
      unit: 'MΩ',
      atLeast: 0.001,
      atMost: 1e6,
    },
    {
      id: 'basis',
      label: 'Whose figure',
      hint: 'A standard with its edition, a maker, or your own choice.',
      required: true,
      kind: 'text',
      longest: 100,
    },
    {
      id: 'oneEndOnCore',
      label: 'One end of it joined to the core?',
      required: true,
      kind: 'choice',
      options: [
        { value: 'yes', label: 'Yes' },
        { value: 'no', label: 'No' },
        { value: 'not-looked', label: 'Not looked' },
      ],
    },
  ],
  eachPoint: 'between',
  limits: () => proposed([], timesOf('R')),
  cautions: ['c-core'],
  steps: () =>
    inOrder(
      'Plug out, proved dead. Meters, electronics, rectifiers taken off. Winding ends joined to each other.',
      'A winding with one end on the core: lift the joint first, or leave that pair out.',
      'Tester on, hands off, one minute. Read, type or keep.',
      'Wait until the tester has discharged it, then join the ends.',
    ),
  keeps: 'points',
  calculation: 'insulation-resistance',
  work: (material) => {
    const newestFirst = material.points.toReversed().map((point) => inputFor(material, point));
    const [last, ...earlier] = newestFirst;
    return last === undefined
      ? waiting('No point is kept yet.')
      : ready('insulation-resistance', last, () =>
          earlier.map((input) => ({ calculation: 'insulation-resistance', input })),
        );
  },
};
