/** How two transformers, or two cores, can serve one load. */
export const ways = ['parallel', 'series', 'double-supply', 'double-stack'] as const;
export type Way = (typeof ways)[number];

export const wayWords: Readonly<
  Record<Way, { readonly short: string; readonly title: string; readonly means: string }>
> = {
  parallel: {
    short: 'Parallel',
    title: 'Secondaries in parallel',
    means: 'Both primaries on the same supply; each secondary gives the volts of the load and a part of its amps.',
  },
  series: {
    short: 'Series',
    title: 'Secondaries in series',
    means: 'Both primaries on the same supply; the volts of the secondaries add up, the same amps flow through both.',
  },
  'double-supply': {
    short: 'Double supply',
    title: 'Primaries in series, on twice the volts',
    means: 'Each core gets half of the supply; secondaries in series, so that both carry the same load.',
  },
  'double-stack': {
    short: 'Double stack',
    title: 'One core of two: E to E',
    means: 'The I sheets away, the E stacks face to face: the same tongue, twice the window.',
  },
};
