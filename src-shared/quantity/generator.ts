/** A source of chance that can be repeated: the same seed gives the same numbers on every machine. */
export interface Generator {
  /** The next number, evenly spread over 0 <= x < 1. */
  readonly uniform: () => number;
  /** The next number of a standard normal distribution. */
  readonly normal: () => number;
}

/** One round of a 32-bit mixer that spreads neighbouring seeds apart. */
function* seedWords(seed: number): Generator32 {
  let state = seed | 0;
  for (;;) {
    state = (state + 0x9e3779b9) | 0;
    let word = state ^ (state >>> 16);
    word = Math.imul(word, 0x21f0aaad);
    word ^= word >>> 15;
    word = Math.imul(word, 0x735a2d97);
    yield (word ^ (word >>> 15)) >>> 0;
  }
}
type Generator32 = Iterator<number, never>;

/** xoshiro128** (Blackman and Vigna 2018): period 2^128 - 1; 32 bits a step, of which two make one 53-bit number. */
export function seededGenerator(seed: number): Generator {
  const words = seedWords(seed);
  let [a, b, c, d] = [words.next().value, words.next().value, words.next().value, words.next().value];
  const rotate = (x: number, by: number) => (x << by) | (x >>> (32 - by));
  const next = () => {
    const result = Math.imul(rotate(Math.imul(b, 5), 7), 9) >>> 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = rotate(d, 11);
    return result;
  };
  const uniform = () => ((next() >>> 5) * 67108864 + (next() >>> 6)) / 9007199254740992;
  // Box and Muller (1958); 1 - uniform is never 0.
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}
