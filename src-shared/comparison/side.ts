import * as v from 'valibot';
import type { PhysicalResult } from '../calculation/answer.ts';
import { comparable } from '../calculation/compare/comparable.ts';
import { resistanceFactor } from '../calculation/conductor.ts';
import type { Winding } from '../record/build.ts';
import { noLoadHeat } from '../record/heat-results.ts';
import type { Result } from '../record/run.ts';
import { Measured, type BuildRecord, type Item } from './build-record.ts';
import { coreHeat } from './core-heat.ts';
import { insulationItems } from './insulation.ts';
import type { VoltsPowers } from './volts-power.ts';
import { comparedQuantities, type ComparedQuantity, type ConditionKey } from './quantity.ts';

const finite = v.pipe(v.number(), v.finite());
const Physical = v.object({
  value: finite,
  u: v.nullable(finite),
  unit: v.string(),
  dof: v.nullable(finite),
  interval95: v.nullable(v.tuple([finite, finite])),
  budget: v.exactOptional(
    v.array(
      v.object({
        input: v.string(),
        u: finite,
        share: finite,
        shape: v.exactOptional(v.picklist(['rectangular', 'triangular'])),
      }),
    ),
  ),
});
const Fields = v.record(v.string(), v.unknown());
const Output = v.object({ ok: v.literal(true), results: Fields });

const read = <Schema extends v.GenericSchema>(schema: Schema, value: unknown): v.InferOutput<Schema> | null => {
  const parsed = v.safeParse(schema, value);
  return parsed.success ? parsed.output : null;
};

/** Standard uncertainty of an item with all its parts, in its unit; null when nobody knows. */
export function doubtOf({ value, parts = [] }: Item): number | null {
  if (typeof value === 'number') return Math.hypot(...parts.map(({ u }) => u));
  return value.u === null ? null : Math.hypot(value.u, value.shared?.u ?? 0, ...parts.map(({ u }) => u));
}

/** The kept results of a build that are compared, by what they are kept as. */
export type Chosen = ReadonlyMap<string, Result>;

/** What the result of a quantity is kept as: its calculation, and whether a load was on. */
export const keptAs = ({ calculation, isLoaded }: Pick<ComparedQuantity, 'calculation' | 'isLoaded'>): string =>
  isLoaded === true ? `${calculation}, loaded` : calculation;

const ofBuild = ({ build, results }: BuildRecord): readonly Result[] =>
  results.filter(({ buildId }) => buildId === build.buildId).sort((one, other) => one.resultId - other.resultId);

/** Volts at which a no-load result holds; null for anything else. */
export const voltsOf = ({ input }: Result): number | null => {
  const volts = read(Measured, read(Fields, input)?.['volts']);
  return volts === null ? null : typeof volts === 'number' ? volts : volts.value;
};

/** Volts that are this near are as good as equal; then the newer result is taken. */
const nearVolts = 0.005;

/** Of many results at as many volts, as a sweep leaves them, two at like volts: the highest, and the newest there. */
function nearestInVolts(before: readonly Result[], after: readonly Result[]): readonly [Result, Result] | null {
  const pairs = before.flatMap((one) =>
    after.map((other) => {
      const [low, high] = [voltsOf(one) ?? 0, voltsOf(other) ?? 0];
      const apart = Math.abs(low - high) / Math.max(low, high, 1e-9);
      const step = Math.round(Math.log(Math.max(low, high, 1e-9)) / nearVolts);
      return { one, other, apart: apart <= nearVolts ? 0 : apart, step, age: one.resultId + other.resultId };
    }),
  );
  const [best] = pairs.sort(
    (first, second) => first.apart - second.apart || second.step - first.step || second.age - first.age,
  );
  return best === undefined ? null : [best.one, best.other];
}

/** The newest result of each calculation; heat with a load on apart from heat without. */
function newestOf(record: BuildRecord): Map<string, Result> {
  const results = ofBuild(record);
  const newest = new Map(results.map((result) => [result.calculation, result]));
  newest.delete('heat-run');
  const heats = [
    [keptAs({ calculation: 'heat-run' }), noLoadHeat(results)],
    [keptAs({ calculation: 'heat-run', isLoaded: true }), coreHeat(record, record.build.buildId, 'loaded-run')?.result],
  ] as const;
  for (const [as, result] of heats) if (result !== undefined) newest.set(as, result);
  return newest;
}

/** Which results of two builds stand against each other: the newest of each kind, no-load points at like volts. */
export function chosenResults(before: BuildRecord, after: BuildRecord): readonly [Chosen, Chosen] {
  const [one, other] = [ofBuild(before), ofBuild(after)];
  const chosen = [newestOf(before), newestOf(after)] as const;
  const isNoLoad = ({ calculation }: Result) => calculation === 'no-load';
  const nearest = nearestInVolts(one.filter(isNoLoad), other.filter(isNoLoad));
  if (nearest !== null) nearest.forEach((result, side) => chosen[side]?.set('no-load', result));
  return chosen;
}

/** What a kept result holds at: its own inputs first, then what its session says. */
function conditionsOf(record: BuildRecord, result: Result, needed: readonly ConditionKey[]): Record<string, unknown> {
  const run = record.runs.find(({ runId }) => runId === result.runId);
  const session = record.sessions.find(({ sessionId }) => sessionId === run?.sessionId);
  const input = read(Fields, result.input) ?? {};
  const results = read(Output, result.output)?.results ?? {};
  const ofRun = record.results.findLast(({ runId, calculation }) => {
    return calculation === 'loaded-run' && runId !== null && runId === result.runId;
  });
  const load = read(Output, ofRun?.output)?.results ?? {};
  // The curve of a heat run carries no volts: its session says what fed it.
  const fed = result.calculation === 'heat-run' ? session?.fields.supply.volts : undefined;
  const meters = run?.channels.find(({ unit }) => unit === 'A');
  const known: Record<ConditionKey, unknown> = {
    volts: input['volts'] ?? input['referenceVolts'] ?? input['supplyVolts'] ?? fed,
    hertz: input['hertz'] ?? session?.fields.supply.hertz,
    amps: results['atAmps'] ?? load['atAmps'],
    ambientCelsius: input['ambientCelsius'] ?? session?.fields.ambientCelsius,
    startCelsius: input['startCelsius'],
    supplyKind: session?.fields.supply.kind,
    meterKind: meters === undefined ? undefined : record.meterKinds.get(meters.meterId),
  };
  return Object.fromEntries(needed.flatMap((key) => (known[key] === undefined ? [] : [[key, known[key]]])));
}

/** What stands at a path of keys and indices; undefined where it leads nowhere. */
function at(tree: unknown, path: string): unknown {
  return path.split('.').reduce<unknown>((part, key) => {
    if (Array.isArray(part)) return part[Number(key)];
    return typeof part === 'object' && part !== null ? Reflect.get(part, key) : undefined;
  }, tree);
}

function itemOf(
  record: BuildRecord,
  kept: Chosen,
  asked: ComparedQuantity,
  powers: VoltsPowers | null,
): readonly Item[] {
  const result = kept.get(keptAs(asked));
  if (result === undefined) return [];
  const conditions = conditionsOf(record, result, asked.dependsOn);
  const power = asked.power === undefined ? null : (powers?.[asked.power] ?? null);
  const exponent = power === null ? {} : { voltsExponent: power };
  if (asked.in === 'input') {
    const value = read(Measured, read(Fields, result.input)?.[asked.key]);
    return value === null
      ? []
      : [{ quantity: asked.name, ...unitOf(asked.unit ?? ''), value, conditions, ...exponent }];
  }
  const physical: PhysicalResult | null = read(Physical, at(read(Output, result.output)?.results, asked.key));
  return physical === null ? [] : [{ ...comparable(asked.name, physical), conditions, ...exponent }];
}

const unitOf = (unit: string) => (unit === '' ? {} : { unit });

/** What the record says of a winding by itself: its turns, and its resistance at 20 °C where its metal is known. */
function windingItems({ fields }: Winding): readonly Item[] {
  const { label, turns, ohms, ohmsCelsius, metal } = fields;
  const items: Item[] = [];
  if (turns.kind === 'counted') {
    items.push({ quantity: `${label}: turns`, unit: 'turns', value: turns.turns, conditions: {} });
  }
  if (turns.kind === 'estimated') {
    items.push({
      quantity: `${label}: turns`,
      unit: 'turns',
      // Turns that were added to, or taken off, one and the same measured count share its doubt: what was done is exact.
      value:
        turns.resultId === null
          ? { value: turns.value, u: turns.u }
          : { value: turns.value, u: 0, shared: { id: `turns of result ${turns.resultId}`, u: turns.u } },
      conditions: {},
    });
  }
  if (ohms !== undefined && ohmsCelsius !== undefined) {
    const factor = metal === 'not-known' ? 1 : resistanceFactor(metal, ohmsCelsius);
    const u = ohms.u === null ? null : ohms.u / factor;
    items.push({
      quantity: `${label}: resistance${metal === 'not-known' ? '' : ' at 20 °C'}`,
      unit: 'Ω',
      value: { value: ohms.value / factor, u },
      conditions: metal === 'not-known' ? { celsius: ohmsCelsius } : {},
    });
  }
  return items;
}

/**
 * A build as one side of the calculation `compare`. Windings of the same label are counted once. With `powers` its no-load
 * figures may be brought to other volts.
 */
export function sideOf(record: BuildRecord, name: string, kept: Chosen, powers: VoltsPowers | null = null) {
  const { fields, windings } = record.build;
  const items = [
    ...comparedQuantities.flatMap((asked) => itemOf(record, kept, asked, powers)),
    ...windings.filter(({ fields: { role } }) => role !== 'test-coil').flatMap(windingItems),
    ...insulationItems(record).map(({ item }) => item),
  ];
  const first = new Map<string, Item>();
  for (const item of items) if (!first.has(item.quantity)) first.set(item.quantity, item);
  return { name, joint: fields.joint, shunts: fields.shunts, results: [...first.values()] };
}
