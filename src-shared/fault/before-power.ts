import { allWell, n, n3, suspect, type FaultReading } from './fault-reading.ts';

/** What a low-voltage polarity test read, in V; the turns ratio second over first, null when not known. */
export interface PolaritySeen {
  readonly first: number;
  readonly second: number;
  readonly joined: number;
  readonly ratio: number | null;
}

/** Under this part of what the turns promise a winding gives next to nothing: common practice, no source. */
const nothingPart = 0.3;

/** Reads the volts of two windings, alone and joined, as people join them: to add. */
export function readPolarity({ first, second, joined, ratio }: PolaritySeen): FaultReading {
  const promised = ratio === null ? null : first * ratio;
  if (promised !== null && second < nothingPart * promised) {
    return suspect(`${n(second)} V on the second winding where its turns promise ${n(promised)} V.`, [
      {
        code: 'opposed-strands',
        cause: 'Two strands or halves of it against each other: their volts take each other away.',
        fits: true,
        decides: 'Part the strands and read each far end.',
      },
      {
        code: 'wrong-figures',
        cause: 'An open end or a clip that does not touch, or turns that are noted wrong.',
        fits: true,
        decides: 'Ohms of the winding.',
      },
    ]);
  }
  const [sum, difference] = [first + second, Math.abs(first - second)];
  const title = `${n3(joined)} V joined: ${n3(sum)} V if they add, ${n3(difference)} V if they take away.`;
  if (Math.abs(joined - sum) < Math.abs(joined - difference)) return allWell(title);
  return suspect(title, [
    {
      code: 'swapped-lead',
      cause: 'They take away: the leads of one winding are the other way round from how they are joined.',
      fits: true,
      decides: 'Change over the two ends of one winding: joined, they must read more than either alone.',
    },
  ]);
}

/** What was read before power between windings and core, and from the core to its earth pin, in Ω; null when not read. */
export interface BeforePowerSeen {
  readonly insulationOhms: number | null;
  /** Doubt of it, in Ω; null when nobody knows. */
  readonly insulationDoubt: number | null;
  /** The figure that the person chose, in MΩ. */
  readonly minimumMegohms: number | null;
  readonly endOnCore: 'yes' | 'no' | 'not-looked';
  readonly earthOhms: number | null;
}

/** The core's earth reads less than this with a hand meter: common practice, no source. */
const earthAtMost = 0.5;
/** What is joined reads so little that it is no leak: common practice, no source. In Ω. */
const joinedBelow = 2000;

/** Reads insulation against the figure that the person chose, and the earth against half an ohm. One reading each. */
export function readBeforePower(seen: BeforePowerSeen): readonly FaultReading[] {
  return [insulation(seen), earth(seen)].filter((one) => one !== null);
}

function insulation({
  insulationOhms,
  insulationDoubt,
  minimumMegohms,
  endOnCore,
}: BeforePowerSeen): FaultReading | null {
  if (insulationOhms === null || minimumMegohms === null) return null;
  const megohms = insulationOhms / 1e6;
  const title = `${n(megohms)} MΩ where ${n(minimumMegohms)} MΩ was the figure.`;
  if (megohms >= minimumMegohms) return allWell(title);
  if (insulationOhms + 2 * (insulationDoubt ?? 0) < joinedBelow) {
    if (endOnCore === 'yes') return allWell('Joined to the core by design: insulation tells nothing here.');
    return suspect(`${n(insulationOhms)} Ω to the core: that is no leak, it is joined.`, [
      {
        code: 'end-on-core',
        cause: 'One end of the winding is joined to the core, by design or by a wire that touches.',
        fits: true,
        decides: 'Look where the winding ends on the core; lift that joint and measure again.',
      },
    ]);
  }
  return suspect(title, [
    {
      code: 'leak',
      cause: 'Damp, dust or a carbon track in the insulation.',
      fits: true,
      decides: 'Clean, dry for a day in the warm, measure again: damp goes, a track stays.',
    },
  ]);
}

function earth({ earthOhms }: BeforePowerSeen): FaultReading | null {
  if (earthOhms === null) return null;
  const read = earthOhms >= 1e5 ? `${n(earthOhms / 1e6)} MΩ` : `${n(earthOhms)} Ω`;
  const title = `${read} from the core to the earth pin, where ${earthAtMost} Ω is the most.`;
  if (earthOhms <= earthAtMost) return allWell(title);
  return suspect(title, [
    {
      code: 'bad-earth',
      cause: 'The earth wire of the core is open, loose or on paint. A fault would leave the core live.',
      fits: true,
      decides: 'Bare metal under the lug, tightened; then the ohms again. No power before.',
    },
  ]);
}
