import * as v from 'valibot';
import { formatEstimate, type Written } from '../quantity/format.ts';
import type { Result } from '../record/run.ts';
import type { Session } from '../record/session.ts';
import { primaryOf } from '../record/primary.ts';
import type { BuildRecord } from './build-record.ts';
import type { Chosen } from './side.ts';
import type { VoltsPowers } from './volts-power.ts';

/** A condition as it was noted: a word, or a figure with its unit. */
export type Noted = string | Written;

/** One condition of the two builds; null where nobody noted it. */
export interface ConditionRow {
  readonly name: string;
  readonly before: Noted | null;
  readonly after: Noted | null;
  readonly differs: boolean;
  /** What the comparison does about it where the two differ: brought together, allowed for, or in the way. */
  readonly effect: string | null;
}

const finite = v.pipe(v.number(), v.finite());
const Measured = v.union([finite, v.looseObject({ value: finite, u: v.optional(v.nullable(finite)) })]);
const NoLoad = v.looseObject({ input: v.looseObject({ volts: Measured, hertz: v.optional(Measured) }) });
const Heat = v.looseObject({
  input: v.looseObject({ points: v.array(v.looseObject({ seconds: finite })), ambientCelsius: v.optional(Measured) }),
  output: v.looseObject({ results: v.looseObject({ startCelsius: Measured }) }),
});

const writtenIn = (unit: string, measured: v.InferOutput<typeof Measured> | undefined): Written | null => {
  if (measured === undefined) return null;
  return typeof measured === 'number'
    ? { value: measured, u: 0, unit }
    : { value: measured.value, u: measured.u ?? null, unit };
};
const plainOf = (unit: string, value: number | undefined): Written | null =>
  value === undefined ? null : { value, u: 0, unit };

/** What all say alike, or each of them; null where none says anything. */
function distinct(values: readonly (Noted | null)[]): Noted | null {
  const known = values.filter((value) => value !== null);
  const texts = [...new Set(known.map((value) => (typeof value === 'string' ? value : formatEstimate(value))))];
  const [first] = known;
  return texts.length === 1 ? (first ?? null) : texts.length === 0 ? null : texts.join(', ');
}

/** What the sessions, the runs and the results of a build say of how it was measured. */
function noted({ build, results, runs, sessions, meterKinds, meterNames }: BuildRecord, kept: Chosen, other: Chosen) {
  // What was measured on one of them only says nothing of how the two were held against each other.
  const isOnBoth = ({ calculation }: Result) => kept.has(calculation) && other.has(calculation);
  const mine = results.filter(({ buildId }) => buildId === build.buildId);
  const ofBuild = mine.some(isOnBoth) ? mine.filter(isOnBoth) : mine;
  const used = runs.filter(({ runId }) => ofBuild.some((result) => result.runId === runId));
  const sat = sessions.filter(({ sessionId }) => used.some((run) => run.sessionId === sessionId));
  const each = (of: (session: Session) => Noted | null) => distinct(sat.map(of));
  const meters = used.flatMap(({ channels }) => channels.map(({ meterId }) => meterId));
  const known = (word: string) => (word === 'not-known' ? null : word.replaceAll('-', ' '));
  const [noLoad, heat] = [v.safeParse(NoLoad, kept.get('no-load')), v.safeParse(Heat, kept.get('heat-run'))];
  const volts = noLoad.success ? writtenIn('V', noLoad.output.input.volts) : null;
  const fit = heat.success ? heat.output : null;
  const seconds = fit === null ? undefined : Math.max(...fit.input.points.map((point) => point.seconds));
  const primary = primaryOf(build)?.fields;
  return {
    'Supply volts': volts ?? each(({ fields }) => plainOf('V', fields.supply.volts)),
    Frequency: each(({ fields }) => plainOf('Hz', fields.supply.hertz)),
    Supply: each(({ fields }) => fields.supply.kind.replaceAll('-', ' ')),
    Ambient: writtenIn('°C', fit?.input.ambientCelsius) ?? each(({ fields }) => plainOf('°C', fields.ambientCelsius)),
    'Heat run began at': writtenIn('°C', fit?.output.results.startCelsius),
    'Heat run lasted': seconds === undefined ? null : plainOf('min', Math.round(seconds / 60)),
    'Winding temperature of the resistance': plainOf(
      '°C',
      primary?.ohms === undefined ? undefined : primary.ohmsCelsius,
    ),
    Meters: distinct([[...new Set(meters.map((id) => meterNames.get(id) ?? `meter ${id}`))].sort().join(', ') || null]),
    'Kind of meter': distinct(meters.map((id) => meterKinds.get(id) ?? null)),
    Joint: known(build.fields.joint),
    Shunts: known(build.fields.shunts),
    Practice: used.length === 0 ? null : used.some(({ practice }) => practice) ? 'yes: nothing was measured' : 'no',
  };
}
type Name = keyof ReturnType<typeof noted>;

const isNear = (before: Noted, after: Noted, allowed: (most: number) => number): boolean =>
  typeof before === 'object' &&
  typeof after === 'object' &&
  Math.abs(before.value - after.value) <= allowed(Math.max(before.value, after.value)) * (1 + 1e-9);

/** The same bounds as the calculation `compare` has (common practice, no source). */
const onePercent = (most: number) => 0.01 * most;
const tenPercent = (most: number) => 0.1 * most;
const inTheWay = 'In the way: what depends on it is not compared.';
const inTheDifferences = 'Nothing takes this out: whatever it does is in the differences.';

function voltsEffect(before: Noted, after: Noted, powers: VoltsPowers | null): string {
  if (powers !== null && isNear(before, after, tenPercent) && typeof before === 'object') {
    const { amps, watts } = powers;
    const what = watts === null ? 'The no-load current' : 'No-load current and core loss';
    const power = (one: { readonly value: number; readonly u: number }) => formatEstimate({ ...one, unit: '' });
    return `${what} after ${watts === null ? 'is' : 'are'} brought to ${formatEstimate(before)} along the curve, by the power ${power(amps)}${watts === null ? '' : ` and ${power(watts)}`} of the volts.`;
  }
  return isNear(before, after, onePercent)
    ? 'Allowed for in the doubt: no curve says how much it does.'
    : 'In the way: without a curve, or over 10 % apart, they cannot be brought together.';
}

/** What is done about a condition that differs. */
function effectOf(name: Name, before: Noted, after: Noted, record: BuildRecord, powers: VoltsPowers | null): string {
  switch (name) {
    case 'Supply volts':
      return voltsEffect(before, after, powers);
    case 'Frequency':
    case 'Supply':
    case 'Kind of meter':
      return inTheWay;
    case 'Ambient':
      return isNear(before, after, () => 10) ? 'Taken out: rises are counted from the room.' : inTheWay;
    case 'Heat run began at':
      return 'Taken out: the fit tells where each would end, wherever it began.';
    case 'Heat run lasted':
      return 'Taken out as far as the fit goes; the shorter run has the larger doubt.';
    case 'Winding temperature of the resistance':
      return primaryOf(record.build)?.fields.metal === 'not-known' ? inTheWay : 'Resistances are brought to 20 °C.';
    case 'Meters':
      return 'What one meter adds to both is taken out; what another adds is in the doubt.';
    case 'Joint':
    case 'Shunts':
      return inTheDifferences;
    case 'Practice':
      return 'One of them was not measured at all.';
  }
}

const alike = (before: Noted | null, after: Noted | null): boolean =>
  before === after ||
  (typeof before === 'object' && typeof after === 'object' && before !== null && after !== null
    ? formatEstimate(before) === formatEstimate(after)
    : false);

/** How the two builds were measured, what differs first, with what is done about it. */
export function conditionRows(
  before: BuildRecord,
  after: BuildRecord,
  [keptBefore, keptAfter]: readonly [Chosen, Chosen],
  powers: VoltsPowers | null,
): readonly ConditionRow[] {
  const [one, other] = [noted(before, keptBefore, keptAfter), noted(after, keptAfter, keptBefore)];
  const names: readonly Name[] = [
    'Supply volts',
    'Frequency',
    'Supply',
    'Ambient',
    'Heat run began at',
    'Heat run lasted',
    'Winding temperature of the resistance',
    'Meters',
    'Kind of meter',
    'Joint',
    'Shunts',
    'Practice',
  ];
  // How a build was measured differs from nothing where the other was not measured at all.
  const isOnBoth = keptBefore.size > 0 && keptAfter.size > 0;
  const rows = names.map((name): ConditionRow => {
    const [first, second] = [one[name], other[name]];
    const differs = !alike(first, second) && (isOnBoth || (first !== null && second !== null));
    const effect = !differs
      ? null
      : first === null || second === null
        ? 'Not noted on one side: that they were alike is taken on trust.'
        : effectOf(name, first, second, after, powers);
    return { name, before: first, after: second, differs, effect };
  });
  return [...rows.filter(({ differs }) => differs), ...rows.filter(({ differs }) => !differs)];
}
