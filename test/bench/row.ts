/** One measured figure, with what it is held against in the same run. */
export interface BenchRow {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  /** The same measure of the plainest way there is; null when there is none to compare with. */
  readonly baseline: number | null;
  readonly ratio: number | null;
  readonly goal: number | null;
  /** Whether the ratio meets the goal; null when there is no goal. */
  readonly holds: boolean | null;
}

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const [low = Number.NaN, high = low] = [sorted[(sorted.length - 1) >> 1], sorted[sorted.length >> 1]];
  return (low + high) / 2;
};
