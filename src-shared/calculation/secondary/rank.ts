import { formatNumber } from '../../quantity/format.ts';
import type { Candidate } from './candidate.ts';

/**
 * What speaks against a choice besides the watts that it loses, each as a part of those watts. The weights are ours: they
 * only say how many watts an easier winding is worth. Every one grows with its count, so a choice that is better in
 * everything always comes first.
 */
interface Against {
  readonly part: (candidate: Candidate, target: number) => number;
  readonly words: (candidate: Candidate, target: number) => string;
}

/** Bare conductors thicker than this are hard to bend round a limb by hand, in mm: common practice, no source. */
const bendsEasily = 2.5;

const against: readonly Against[] = [
  {
    part: ({ strands }) => 0.05 * (strands - 1),
    words: ({ strands }) => `${strands} strands`,
  },
  {
    part: ({ strandsDeep }) => 0.03 * (strandsDeep - 1),
    words: ({ strandsDeep }) => `${strandsDeep} deep`,
  },
  {
    part: ({ option }) => (option.kind === 'cable' ? 0 : 0.05 * Math.max(0, option.depthMm - bendsEasily)),
    words: () => 'stiff to bend',
  },
  {
    part: ({ layers }) => 0.02 * (layers - 1),
    words: ({ layers }) => `${layers} layers`,
  },
  {
    part: ({ loaded }, target) => Math.abs(loaded - target) / target,
    words: ({ loaded }, target) => `${formatNumber(Math.abs(loaded - target), 2)} V off`,
  },
  {
    part: ({ build }) => 0.001 * build,
    words: () => 'width taken',
  },
  {
    part: ({ copperKg }) => 0.01 * copperKg,
    words: () => 'metal',
  },
];

export interface Ranked {
  readonly candidate: Candidate;
  /** Watts lost in both windings, with what else speaks against it. */
  readonly counted: number;
}

/** Parts under this are left out of the words. */
const worthSaying = 0.015;

const countedOf = (candidate: Candidate, target: number): number =>
  candidate.copperLoss * against.reduce((sum, { part }) => sum + part(candidate, target), 1);

/** Why a choice stands where it does, in words. */
export function reasonFor({ candidate, counted }: Ranked, target: number): string {
  const additions = against.flatMap(({ part, words }) => {
    const share = part(candidate, target);
    return share < worthSaying ? [] : [`${words(candidate, target)} +${formatNumber(100 * share, 2)} %`];
  });
  const loses = `Loses ${formatNumber(candidate.copperLoss, 3)} W`;
  return additions.length === 0
    ? `${loses}.`
    : `${loses}, counted as ${formatNumber(counted, 3)} W: ${additions.join(', ')}.`;
}

/** Best first; of one wire with so many strands only the best way to lay them. */
export function rank(candidates: readonly Candidate[], target: number): readonly Ranked[] {
  const sorted = candidates
    .map((candidate) => ({ candidate, counted: countedOf(candidate, target) }))
    .sort((a, b) => a.counted - b.counted || a.candidate.option.name.localeCompare(b.candidate.option.name));
  const seen = new Set<string>();
  return sorted.filter(({ candidate }) => {
    const key = `${candidate.strands} × ${candidate.option.name}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
