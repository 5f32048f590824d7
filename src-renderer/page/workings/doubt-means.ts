/** What a person means by a number after ±. The calculations take standard uncertainties. */
export type DoubtMeans = 'standard' | 'twice' | 'limits' | 'peaked' | 'of-limits' | 'of-peaked';

interface Meaning {
  readonly word: string;
  /** Beside the box, where it is not the usual one. */
  readonly short: string;
  /** The number is divided by this to become a standard uncertainty. */
  readonly divisor: number;
  readonly shape: 'normal' | 'rectangular' | 'triangular';
}

/** JCGM 100:2008, 4.3.7 and 4.3.9 for limits; 6.2 for a coverage factor of 2. */
export const doubtMeanings: Readonly<Record<DoubtMeans, Meaning>> = {
  standard: { word: 'Standard uncertainty', short: '', divisor: 1, shape: 'normal' },
  twice: { word: 'About 95 %, k = 2', short: 'k = 2', divisor: 2, shape: 'normal' },
  limits: {
    word: 'Limits, anywhere between alike',
    short: 'limits',
    divisor: Math.sqrt(3),
    shape: 'rectangular',
  },
  peaked: {
    word: 'Limits, rather near the middle',
    short: 'limits, peaked',
    divisor: Math.sqrt(6),
    shape: 'triangular',
  },
  'of-limits': {
    word: 'Standard uncertainty that came from limits',
    short: 'u of limits',
    divisor: 1,
    shape: 'rectangular',
  },
  'of-peaked': {
    word: 'Standard uncertainty that came from peaked limits',
    short: 'u of peaked limits',
    divisor: 1,
    shape: 'triangular',
  },
};

export const isDoubtMeans = (text: string): text is DoubtMeans => Object.hasOwn(doubtMeanings, text);

/** How a standard uncertainty of a shape is typed as it stands. */
export const meansOfShape = (shape: unknown): DoubtMeans =>
  shape === 'rectangular' ? 'of-limits' : shape === 'triangular' ? 'of-peaked' : 'standard';
