import * as v from 'valibot';
import type { Result } from '../record/run.ts';
import type { BuildRecord, Item } from './build-record.ts';

const finite = v.pipe(v.number(), v.finite());
const Measured = v.union([
  finite,
  v.object({
    value: finite,
    u: v.nullable(finite),
    shape: v.exactOptional(v.picklist(['normal', 'rectangular', 'triangular'])),
    dof: v.exactOptional(v.nullable(finite)),
    shared: v.exactOptional(v.object({ id: v.string(), u: finite })),
  }),
]);
const Input = v.looseObject({
  megohms: Measured,
  testVolts: finite,
  between: v.exactOptional(v.string()),
  oneEndOnCore: v.exactOptional(v.string()),
  celsius: v.exactOptional(Measured),
});

/** An insulation reading as the calculation `compare` takes it, and the run that it comes from. */
export interface InsulationItem {
  readonly item: Item;
  readonly runId: number | null;
}

function itemOf({ input, runId }: Result): readonly InsulationItem[] {
  const read = v.safeParse(Input, input);
  // With one end on the core it reads near zero by design: it tells nothing of the insulation.
  if (!read.success || read.output.oneEndOnCore === 'yes') return [];
  const { megohms, testVolts, between, celsius } = read.output;
  const what = between?.trim().replace(/\s+/g, ' ').toLowerCase() ?? '';
  return [
    {
      item: {
        quantity: what === '' ? 'Insulation, it was not noted between what' : `Insulation between ${what}`,
        unit: 'MΩ',
        value: megohms,
        conditions: { testVolts, ...(celsius === undefined ? {} : { celsius }) },
      },
      runId,
    },
  ];
}

/** Insulation resistances of a build in MΩ, between each two the newest. Two builds are compared at one test voltage. */
export function insulationItems({ build, results }: BuildRecord): readonly InsulationItem[] {
  const newestLast = results
    .filter(({ buildId, calculation }) => buildId === build.buildId && calculation === 'insulation-resistance')
    .sort((one, other) => one.resultId - other.resultId);
  return [...new Map(newestLast.flatMap(itemOf).map((each) => [each.item.quantity, each])).values()];
}
