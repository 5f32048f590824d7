import * as v from 'valibot';

const Physical = v.object({ value: v.number(), u: v.nullable(v.number()) });

/** One physical result of an answer as an input of the next calculation; null when the answer has none of that name. */
export function hasOwnNumber(
  results: unknown,
  name: string,
): { readonly value: number; readonly u: number | null } | null {
  const found = v.safeParse(v.object({ [name]: Physical }), results);
  const physical = found.success ? found.output[name] : undefined;
  return physical === undefined ? null : { value: physical.value, u: physical.u };
}
