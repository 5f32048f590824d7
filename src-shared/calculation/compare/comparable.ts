import type { BudgetLine, PhysicalResult } from '../answer.ts';

const shared = 'shared:';

/** With more degrees of freedom a coverage factor is that of the normal distribution in every digit that is shown. */
const asGoodAsInfinite = 1e6;

const together = (lines: readonly BudgetLine[]) => Math.hypot(...lines.map(({ u }) => u));

/**
 * A result as the comparison takes it: what other results may have in common is named, the largest flat part keeps its
 * shape, and all the rest is one normal part, with the degrees of freedom that give the whole its own (JCGM 100:2008,
 * G.4.1).
 */
export function comparable(quantity: string, { value, u, unit, dof, budget = [] }: PhysicalResult) {
  const common = budget.filter(({ input, u: part }) => input.startsWith(shared) && part !== 0);
  // Largest first, so the first flat one is the largest.
  const flat = budget.find(({ shape }) => shape !== undefined);
  const rest = budget.filter((each) => each !== flat && !common.includes(each));
  const restU = together(rest);
  const ofRest = u === null || u === 0 || dof === null ? Infinity : dof * (restU / u) ** 4;
  const few = ofRest > asGoodAsInfinite ? {} : { dof: Math.max(1, ofRest) };
  const parts = [
    ...common.map(({ input, u: part }) => ({ id: input.slice(shared.length), u: part })),
    ...(restU === 0 ? [] : [{ u: restU, ...few }]),
  ];
  return {
    quantity,
    ...(unit === '' ? {} : { unit }),
    value: {
      value,
      u: u === null ? null : Math.abs(flat?.u ?? 0),
      ...(flat?.shape === undefined ? {} : { shape: flat.shape }),
    },
    ...(parts.length === 0 ? {} : { parts }),
  };
}
