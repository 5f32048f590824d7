import * as v from 'valibot';

const number = v.pipe(v.number(), v.finite());
const Measured = v.union([
  v.pipe(
    number,
    v.transform((value): { value: number; u: number | null } => ({ value, u: null })),
  ),
  v.object({ value: number, u: v.nullable(number) }),
]);

const Points = v.object({ points: v.array(v.record(v.string(), v.union([Measured, v.boolean(), v.string()]))) });

export interface Read {
  readonly value: number;
  readonly u: number | null;
}

/** Two values of every point of an input; null when one of them is not there in every point. */
export function readPoints(
  input: unknown,
  x: string,
  y: string,
): readonly { readonly x: Read; readonly y: Read }[] | null {
  const parsed = v.safeParse(Points, input);
  if (!parsed.success) return null;
  const pairs = parsed.output.points.flatMap((point) => {
    const [first, second] = [point[x], point[y]];
    return typeof first === 'object' && typeof second === 'object' ? [{ x: first, y: second }] : [];
  });
  return pairs.length === parsed.output.points.length ? pairs : null;
}

/** One measured value of an input or of results by its key; null when it is not there. */
export function readValue(tree: unknown, key: string): Read | null {
  const parsed = v.safeParse(v.record(v.string(), v.unknown()), tree);
  const value = parsed.success ? v.safeParse(Measured, parsed.output[key]) : null;
  return value?.success === true ? value.output : null;
}
