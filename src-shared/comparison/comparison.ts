import type { Answer } from '../calculation/answer.ts';
import { calculate } from '../calculation/calculate.ts';
import type { CompareResults } from '../calculation/compare/compare.ts';
import type { Compared } from '../calculation/compare/judge.ts';
import type { Written } from '../quantity/format.ts';
import { primaryOf, turnsNumber } from '../record/primary.ts';
import { conditionRows, type ConditionRow } from './conditions.ts';
import { insulationItems } from './insulation.ts';
import { comparedQuantities } from './quantity.ts';
import { comparisonSentence, type SentencePart } from './sentence.ts';
import type { BuildRecord, Item } from './build-record.ts';
import { chosenResults, doubtOf, keptAs, sideOf, voltsOf, type Chosen } from './side.ts';
import { voltsPowers, type VoltsPowers } from './volts-power.ts';

/** One quantity side by side; null on the side where it is not known. */
export interface ComparedRow {
  readonly compared: Compared;
  readonly before: Written | null;
  readonly after: Written | null;
  /** The value after, at the volts before; null where it was not brought there. */
  readonly brought: Written | null;
  /** Runs that the two come from; null for what the record says of a winding. */
  readonly runs: readonly [before: number | null, after: number | null];
  /** It is of a winding that is not on that build. */
  readonly absent: readonly [before: boolean, after: boolean];
}

/** Two builds side by side. */
export interface Comparison {
  /** Refused where the two have no quantity in common. */
  readonly answer: Answer<CompareResults>;
  readonly sentence: readonly SentencePart[];
  readonly rows: readonly ComparedRow[];
  /** Those that differ first. */
  readonly conditions: readonly ConditionRow[];
}

function writtenIn(items: readonly Item[], { quantity, unit }: Compared): Written | null {
  const item = items.find((one) => one.quantity === quantity);
  if (item === undefined) return null;
  const { value } = item;
  return { value: typeof value === 'number' ? value : value.value, u: doubtOf(item), unit };
}

/** The powers of the volts round the two no-load points that are compared: by the curve after, else by the one before. */
function powersOf(after: BuildRecord, [keptBefore, keptAfter]: readonly [Chosen, Chosen]): VoltsPowers | null {
  const voltsIn = (kept: Chosen) => {
    const result = kept.get('no-load');
    return result === undefined ? null : voltsOf(result);
  };
  const [one, other] = [voltsIn(keptBefore), voltsIn(keptAfter)];
  if (one === null || other === null || one === other) return null;
  const turns = turnsNumber(primaryOf(after.build));
  const middle = Math.sqrt(one * other);
  return (
    voltsPowers(keptAfter.get('excitation'), middle, null) ?? voltsPowers(keptBefore.get('excitation'), middle, turns)
  );
}

function broughtOf({ before, difference }: Compared, after: Written | null): Written | null {
  if (before === null || difference === null || after === null) return null;
  const value = before + difference.value;
  return Math.abs(value - after.value) <= 1e-9 * Math.abs(after.value) ? null : { ...after, value };
}

function runOf(record: BuildRecord, kept: Chosen, quantity: string): number | null {
  const asked = comparedQuantities.find(({ name }) => name === quantity);
  if (asked !== undefined) return kept.get(keptAs(asked))?.runId ?? null;
  return insulationItems(record).find(({ item }) => item.quantity === quantity)?.runId ?? null;
}

/** Quantities of a winding are called by its label. */
const isOfNoWindingOf = ({ build }: BuildRecord, quantity: string): boolean => {
  const label = /^(.+): (?:turns|resistance(?: at 20 °C)?)$/.exec(quantity)?.[1];
  return label !== undefined && !build.windings.some(({ fields }) => fields.label === label);
};

/** Compares two builds, of one core or of two, by everything that was kept of them. */
export function comparisonOf(before: BuildRecord, after: BuildRecord): Comparison {
  const kept = chosenResults(before, after);
  const [keptBefore, keptAfter] = kept;
  const powers = powersOf(after, kept);
  const one = sideOf(before, `build ${before.build.number}`, keptBefore);
  const other = sideOf(after, `build ${after.build.number}`, keptAfter, powers);
  const answer = calculate('compare', { before: one, after: other });
  const quantities = answer.ok ? answer.results.quantities : [];
  return {
    answer,
    sentence: comparisonSentence(before.build, after.build, quantities),
    rows: quantities.map((compared) => {
      const [first, second] = [writtenIn(one.results, compared), writtenIn(other.results, compared)];
      return {
        compared,
        before: first,
        after: second,
        brought: broughtOf(compared, second),
        runs: [runOf(before, keptBefore, compared.quantity), runOf(after, keptAfter, compared.quantity)],
        absent: [isOfNoWindingOf(before, compared.quantity), isOfNoWindingOf(after, compared.quantity)],
      };
    }),
    conditions: conditionRows(before, after, kept, powers),
  };
}
