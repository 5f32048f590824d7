import * as v from 'valibot';
import { between, recordId } from '../record/field.ts';
import { practiceFaults } from './fault.ts';

/** How many times faster than the clock the time of the practice bench can go. */
export const timeFactors = [1, 10, 60, 300] as const;

/** Minutes after which a meter that nobody touches goes quiet. */
export const autoOffMinutes = [2, 15] as const;

const whole = (least: number, most: number, name: string) =>
  v.pipe(between(least, most, name), v.safeInteger(`${name} must be whole.`));

/** What a person sets at the practice bench, besides what the record says of it. */
export const PracticeControls = v.strictObject({
  /** The knob of a source that has one, in % of the volts of the session's supply. */
  supplyPercent: between(0, 115, 'Supply'),
  /** How much lies behind the terminals of the source. */
  source: v.picklist(['stiff', 'usual', 'soft']),
  /** What the volts of the line do by themselves. */
  line: v.picklist(['steady', 'wandering', 'drifting']),
  /** What the source truly gives; null: as the session says. */
  hertz: v.nullable(v.picklist([50, 60])),
  /** What hangs on the secondary, in Ω: null is open, 0 is a bolted short. */
  loadOhms: v.nullable(between(0, 10_000, 'Load')),
  /** Temporary turns in series with the winding that is fed; 0 is none. */
  addedTurns: whole(0, 500, 'Temporary turns'),
  /** They are joined the wrong way round. */
  addedOpposed: v.boolean(),
  /** Whole turns of a test coil that was wound anew; null: the one of the build. */
  coilTurns: v.nullable(whole(1, 200, 'Turns of the test coil')),
  /** Magnetic shunts lie between the fed winding and the others. */
  shuntsIn: v.boolean(),
  /** The test coil sits on the far side of them. */
  coilBeyondShunts: v.boolean(),
  /** Added to the gaps of the core when its joint was made anew, in mm. */
  jointGapMm: between(0, 2, 'Gap of the joint'),
  /** What the winding that is fed is made of; null: as it was made. */
  metal: v.nullable(v.picklist(['copper', 'aluminium'])),
  /** One end of the secondary is joined to the core. */
  endOnCore: v.boolean(),
  /** Meters go quiet after so many minutes without a press; null: never. */
  autoOff: v.nullable(v.picklist(autoOffMinutes)),
  fault: v.picklist(practiceFaults),
  /** How many times faster than the clock its time goes: what it does in an hour it does in so much less. */
  timeFactor: v.picklist(timeFactors),
});
export type PracticeControls = v.InferOutput<typeof PracticeControls>;

export const controlsAtFirst: PracticeControls = {
  supplyPercent: 100,
  source: 'usual',
  line: 'wandering',
  hertz: null,
  loadOhms: null,
  addedTurns: 0,
  addedOpposed: false,
  coilTurns: null,
  shuntsIn: false,
  coilBeyondShunts: false,
  jointGapMm: 0,
  metal: null,
  endOnCore: false,
  autoOff: null,
  fault: 'none',
  timeFactor: 1,
};

/** The truth behind one winding of a demonstration core. */
export const HiddenWinding = v.strictObject({
  buildId: recordId,
  windingId: recordId,
  label: v.string(),
  turns: v.number(),
  /** In Ω at 20 °C. */
  ohms20: v.number(),
  metal: v.picklist(['copper', 'aluminium']),
});
export type HiddenWinding = v.InferOutput<typeof HiddenWinding>;

/** Whether a fault is hidden from the person: none is, one is, or one was and the person was told. */
export const Hiding = v.variant('kind', [
  v.strictObject({ kind: v.literal('nothing') }),
  v.strictObject({ kind: v.literal('hidden') }),
  v.strictObject({ kind: v.literal('told'), fault: v.picklist(practiceFaults), size: v.string() }),
]);
export type Hiding = v.InferOutput<typeof Hiding>;

/** What goes on at the practice bench now, by its hidden truth. */
export const PracticeNow = v.strictObject({
  /** As the person set them: a fault that is hidden is not among them. */
  controls: PracticeControls,
  hiding: Hiding,
  /** The meters have gone quiet by themselves. */
  isQuiet: v.boolean(),
  /** Null while no practice session is open, or nobody said which winding is fed. */
  now: v.nullable(
    v.strictObject({
      isOn: v.boolean(),
      lineAmps: v.number(),
      watts: v.number(),
      windingCelsius: v.number(),
      coreCelsius: v.number(),
      hurts: v.array(v.string()),
    }),
  ),
});
export type PracticeNow = v.InferOutput<typeof PracticeNow>;
