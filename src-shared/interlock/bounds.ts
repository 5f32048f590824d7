/** A threshold that the person may set, within bounds. Going away from `preset` in the looser direction asks for a reason. */
export interface Bound {
  readonly preset: number;
  readonly lowest: number;
  readonly highest: number;
  readonly unit: string;
  readonly text: string;
}

/** The editable thresholds. For each of them a higher figure is the looser one. */
export const bounds = {
  /** Common practice, no source; bounded far below the 25 V a.c. of IEC 60364-4-41. */
  deadAcVolts: { preset: 3, lowest: 1, highest: 12, unit: 'V', text: 'Dead below, a.c.' },
  /** Common practice, no source; bounded far below the 60 V d.c. of IEC 60364-4-41. */
  deadDcVolts: { preset: 6, lowest: 1, highest: 12, unit: 'V', text: 'Dead below, d.c.' },
  /** Common practice, no source. */
  proofMinutes: { preset: 30, lowest: 5, highest: 60, unit: 'min', text: 'A proof of dead holds' },
  /** Common practice, no source. */
  benchMinutes: { preset: 60, lowest: 5, highest: 60, unit: 'min', text: 'Checks of the bench and the people hold' },
  /** IEC 60364-4-41: extra-low voltage, 50 V a.c. dry; 25 V where it is damp. */
  touchVolts: { preset: 50, lowest: 25, highest: 50, unit: 'V', text: 'Full checks above' },
} as const satisfies Readonly<Record<string, Bound>>;

export type ThresholdName = keyof typeof bounds;
export type Thresholds = Readonly<Record<ThresholdName, number>>;

export const thresholdNames = [
  'deadAcVolts',
  'deadDcVolts',
  'proofMinutes',
  'benchMinutes',
  'touchVolts',
] as const satisfies readonly ThresholdName[];

export const presetThresholds: Thresholds = {
  deadAcVolts: bounds.deadAcVolts.preset,
  deadDcVolts: bounds.deadDcVolts.preset,
  proofMinutes: bounds.proofMinutes.preset,
  benchMinutes: bounds.benchMinutes.preset,
  touchVolts: bounds.touchVolts.preset,
};

/** From here up a reading is no stray pick-up but a live circuit (IEC 60364-4-41, dry touch: 25 V a.c., 60 V d.c.). */
export const deadCeilingVolts = { ac: 25, dc: 60 } as const;

/** Set-up checks stand 12 hours at most, day checks 24 (common practice, no source). */
export const setupHours = 12;
export const dayHours = 24;

/** The known source is read within 5 minutes of each reading of the circuit (common practice, no source). */
export const knownPairMinutes = 5;
/** The known source reads within 10 % of what was declared, and at least 5 times the threshold (GS38 practice). */
export const knownTolerance = 0.1;
export const knownTimesThreshold = 5;
/** A proof in which nothing was read for this long is given up: the leads have been elsewhere. */
export const proofIdleMinutes = 10;

/** Hold to confirm: the bar is held for 1 s; a confirmation later than 5 s after the beginning belongs to another hold. */
export const holdAtLeastMs = 1000;
export const holdAtMostMs = 5000;

/** After power-on the amp limits are recorded but do not trip for 2 s or three readings (inrush), never longer than 5 s. */
export const blankMs = 2000;
export const blankReadings = 3;
export const blankAtMostMs = 5000;

/** Mains may stand 10 % above nominal (IEC 60038); meters are rated against that. */
export const withSupplyMargin = (volts: number): number => (volts * 11) / 10;

/** A meter is quiet after this many of its own intervals, or the silence limit where that is longer. */
export const silenceIntervals = 3;
/** A typed channel: reminded at the agreed interval, alarm at twice, trip at four times. */
export const typedAlarmTimes = 2;
export const typedTripTimes = 4;

/** A rate of rise is taken over at least this long, from points at least `trailStepMs` apart. */
export const rateOverMs = 60_000;
export const trailStepMs = 5_000;

/** How far a clock may seem to step back, by two readings stamped in the wrong order, before it is not believed any more. */
export const clockToleranceMs = 1000;

/** A computer that slept for this long listened to nothing: as if everybody had left the bench (interrupted work: HSG85). */
export const unwatchedMs = 60_000;

/** What limits may be set to, whoever asks. */
export const limitBounds = {
  runSeconds: { lowest: 5, highest: 86_400 },
  silenceSeconds: { lowest: 1, highest: 120 },
  typedSeconds: { lowest: 5, highest: 1800 },
} as const;
