/** The bounds of one channel, in its unit; null where there is none. */
export interface ChannelLimit {
  readonly channel: string;
  readonly min: number | null;
  readonly max: number | null;
  /** Alarm without a trip from here up. */
  readonly warn: number | null;
  /** Highest rise in units a minute; for temperatures. */
  readonly risePerMinute: number | null;
}

/** The limits that a run is under. */
export interface Limits {
  readonly channels: readonly ChannelLimit[];
  /** Longest time with power on, in s; null for none. */
  readonly runSeconds: number | null;
  /** How long a meter may be silent, in s; three of its own intervals where that is longer. */
  readonly silenceSeconds: number;
  /** How often the typed channels are to be typed, in s. */
  readonly typedSeconds: number;
}

/** What a channel's limit may be loosened to, and no further: the rating that stands behind it. */
export interface ChannelCeiling {
  readonly channel: string;
  readonly lowestMin: number | null;
  readonly highestMax: number | null;
}

/** The limits that a procedure proposes for its set-up. */
export interface ProposedLimits {
  readonly limits: Limits;
  readonly ceilings: readonly ChannelCeiling[];
}
