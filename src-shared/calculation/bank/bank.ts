import { formatNumber } from '../../quantity/format.ts';
import { propagate } from '../../quantity/propagate.ts';
import { rootBetween } from '../../quantity/root.ts';
import { takeApart, type Values } from '../../quantity/sources.ts';
import { line, physical, refuse, worked, type WorkingLine } from '../answer.ts';
import { defineCalculation } from '../calculation.ts';
import { cautionsOf } from './cautions.ts';
import { currentOf, inParallel, inSeries, shortCircuitAmps, underLoad, type Load } from './circuit.ts';
import { bankInput, type BankInput } from './input.ts';
import { largest, parallelResults } from './parallel.ts';
import { along, size } from './phasor.ts';
import type { BankResults, UnitShare } from './results.ts';

type Each = Values<Pick<BankInput, 'units'>>;

const sourceOf = ({ units }: Each, join: BankInput['join']) =>
  join === 'series' ? inSeries(units) : inParallel(units);

/** What one unit carries at so much load; NaN where the bank cannot drive it. */
function unitAmps(each: Each, index: number, join: BankInput['join'], amps: number, load: Load): number {
  if (join === 'series') return amps;
  const unit = each.units[index];
  const terminal = underLoad(inParallel(each.units), amps, load);
  return unit === undefined || terminal === null ? NaN : size(currentOf(unit, terminal));
}

/** Load at which a unit reaches its rated current; null where even a short of the bank does not bring it there. */
function limitBy(each: Each, index: number, load: Load): number | null {
  const rated = each.units[index]?.ratedAmps ?? NaN;
  const most = shortCircuitAmps(inParallel(each.units));
  return rootBetween((amps) => unitAmps(each, index, 'parallel', amps, load) - rated, 0, most);
}

/** A limit is a root that is looked for, and a share may stand at it. */
const dear = { dear: true };

const n = (value: number) => formatNumber(value, 6);

function run(given: BankInput) {
  const { units, join, loadAmps, powerFactor, sense } = given;
  const load: Load = { powerFactor, sense };
  const tree = { units };
  const { values } = takeApart(tree);
  const source = sourceOf(values, join);
  const open = propagate(tree, (each) => along(sourceOf(each, join).volts, source.volts));
  if (loadAmps !== undefined && underLoad(source, loadAmps.value, load) === null) {
    return refuse('outside-validity', 'These units cannot drive so much current into any load.', 'loadAmps');
  }
  const parallel = join === 'parallel' ? parallelResults(tree, values.units) : null;
  const isOverIdle = parallel?.idle.some((amps, index) => !(amps < (values.units[index]?.ratedAmps ?? NaN))) ?? false;
  const byUnit = values.units.map(({ ratedAmps }, index) =>
    join === 'series' ? ratedAmps : (limitBy(values, index, load) ?? Infinity),
  );
  const tightest = largest(byUnit.map((amps) => -amps));
  const limitOf = (each: Each) => {
    if (isOverIdle) return 0;
    if (join === 'series') return each.units[tightest]?.ratedAmps ?? NaN;
    return limitBy(each, tightest, load) ?? shortCircuitAmps(inParallel(each.units));
  };
  const limit = propagate(tree, limitOf, dear);
  const atTree = { units, amps: loadAmps ?? null };
  const atAmps = loadAmps?.value ?? limit.value;
  const sharing = units.map((_, index): UnitShare => {
    const amps = (each: Values<typeof atTree>) => unitAmps(each, index, join, each.amps ?? limitOf(each), load);
    const percent = (each: Values<typeof atTree>) => (100 * amps(each)) / (each.units[index]?.ratedAmps ?? NaN);
    return {
      amps: physical('A', propagate(atTree, amps, dear)),
      ratedPercent: physical('%', propagate(atTree, percent, dear)),
    };
  });
  const loadVolts =
    loadAmps === undefined
      ? null
      : propagate({ units, loadAmps }, (each) =>
          size(underLoad(sourceOf(each, join), each.loadAmps, load) ?? { re: NaN, im: 0 }),
        );
  const results: BankResults = {
    openVolts: physical('V', open),
    ...(parallel === null ? {} : parallel.results),
    sharing,
    sharingAtAmps: atAmps,
    ...(loadVolts === null ? {} : { loadVolts: physical('V', loadVolts) }),
    limitAmps: physical('A', limit),
  };
  const volts = units.map(({ openVolts }) => n(openVolts.value)).join(', ');
  const impedance = units.map(({ ohms, reactance }) => `${n(ohms.value)} + j ${n(reactance?.value ?? 0)}`).join(', ');
  const working: readonly WorkingLine[] = [
    join === 'series'
      ? line('U0', '|Σ Uk|', `with their phases: ${volts}`, open.value, 'V')
      : line('U0', '|Σ (Uk / Zk) / Σ (1 / Zk)|', `${volts} behind ${impedance}`, open.value, 'V'),
    ...(results.circulatingAmps === undefined || results.lastLinkVolts === undefined
      ? []
      : [
          line('ΔU', '|Uk − U of the others|', volts, results.lastLinkVolts.value, 'V'),
          line('Ic', '|Uk − U0| / |Zk|', `${volts} behind ${impedance}`, results.circulatingAmps.value, 'A'),
        ]),
    ...sharing.map(({ amps }, index) =>
      line(`I${index}`, join === 'series' ? 'I' : '|Uk − U| / |Zk|', `at ${n(atAmps)} A`, amps.value, 'A'),
    ),
    line(
      'Imax',
      'first unit at its rated current',
      units.map(({ ratedAmps }) => n(ratedAmps.value)).join(', '),
      limit.value,
      'A',
    ),
  ];
  return worked(results, working, cautionsOf(given, results));
}

export const bank = defineCalculation({
  name: 'bank',
  title: 'Several secondaries in series or in parallel',
  version: 1,
  sources: [
    'Parallel operation by impedances and volts: Theraja, A Textbook of Electrical Technology, vol. II, ch. 32, from memory',
    'Open volts of sources in parallel: Millman’s theorem; any circuits text',
    'Under 1 % across the last link before closing: common practice, no source',
  ],
  input: bankInput,
  example: {
    units: [
      { openVolts: { value: 24.3, u: 0.05 }, ohms: { value: 0.021, u: 0.001 }, reactance: 0.018, ratedAmps: 40 },
      { openVolts: { value: 24.2, u: 0.05 }, ohms: { value: 0.023, u: 0.001 }, reactance: 0.019, ratedAmps: 40 },
    ],
    join: 'parallel',
    loadAmps: 60,
  },
  run,
});
