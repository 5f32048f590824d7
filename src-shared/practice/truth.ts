import * as v from 'valibot';
import { formatNumber } from '../quantity/format.ts';
import { recordId } from '../record/field.ts';
import { controlsAtFirst, PracticeControls } from './controls.ts';
import { faultWords, practiceFaults, type LyingFault } from './fault.ts';

const size = v.pipe(v.number(), v.finite());

const sizes = v.strictObject({
  shortedTurnOhms: size,
  halfTurn: size,
  miscount: size,
  gapMm: size,
  shuntFactor: size,
  lugOhms: size,
  feedJointOhms: size,
  insulationOhms: size,
  driftPerMinute: size,
  softness: size,
});

/** A fault that was hidden, whether the person was told of it, and the runs that it lay in. */
export const HiddenFault = v.strictObject({
  lying: v.strictObject({ fault: v.picklist(practiceFaults), sizes }),
  isTold: v.boolean(),
  runIds: v.array(recordId),
});
export type HiddenFault = v.InferOutput<typeof HiddenFault>;

/** How a practice bench was left: what was set, and what is hidden in it. */
export const PracticeLeft = v.strictObject({ controls: PracticeControls, hidden: v.nullable(HiddenFault) });
export type PracticeLeft = v.InferOutput<typeof PracticeLeft>;

/** How a practice bench truly was, for the record: what was set, and the fault that lay in it, hidden or not. */
export const PracticeTruth = v.strictObject({
  /** For a person who reads the run: never tells what is hidden. */
  text: v.string(),
  controls: PracticeControls,
  isHidden: v.boolean(),
  fault: v.picklist(practiceFaults),
  sizes,
});
export type PracticeTruth = v.InferOutput<typeof PracticeTruth>;

const n = (value: number): string => formatNumber(value, 2);

/** How bad a fault is, in figures; empty where there is no more to say than its name. */
export function faultSize({ fault, sizes }: LyingFault): string {
  const signed = (value: number) => `${value > 0 ? '+' : '−'}${n(Math.abs(value))}`;
  switch (fault) {
    case 'shorted-turn':
      return `${n(sizes.shortedTurnOhms * 1000)} mΩ`;
    case 'half-turn':
      return `${signed(sizes.halfTurn)} turn`;
    case 'miscounted-coil':
      return `${signed(sizes.miscount)} turn`;
    case 'joint-gap':
      return `${n(sizes.gapMm)} mm`;
    case 'hot-joint':
      return `${n(sizes.lugOhms * 1000)} mΩ`;
    case 'feed-joint':
      return `${n(sizes.feedJointOhms)} Ω`;
    case 'damp-insulation':
      return `${n(sizes.insulationOhms / 1e6)} MΩ`;
    case 'drifting-meter':
      return `${signed(sizes.driftPerMinute * 100)} % a minute`;
    default:
      return '';
  }
}

/** A fault with its size, as it is told. */
export const faultTold = (lying: LyingFault): string => {
  const figures = faultSize(lying);
  return figures === '' ? faultWords[lying.fault] : `${faultWords[lying.fault]}, ${figures}`;
};

/** What is set otherwise than at first, in words; the knob goes with every reading and is left out. */
function settingWords(controls: PracticeControls): readonly string[] {
  const { source, line, hertz, loadOhms, addedTurns, addedOpposed, coilTurns, metal, autoOff, timeFactor } = controls;
  const words = [
    source !== controlsAtFirst.source && `${source} source`,
    line !== controlsAtFirst.line && `line ${line}`,
    hertz !== null && `${hertz} Hz`,
    loadOhms !== null && (loadOhms === 0 ? 'output shorted' : `load ${n(loadOhms)} Ω`),
    addedTurns !== 0 && `${addedTurns} temporary turns${addedOpposed ? ' the wrong way round' : ''}`,
    coilTurns !== null && `test coil wound anew with ${coilTurns} turns`,
    controls.shuntsIn && 'shunts in',
    controls.coilBeyondShunts && 'test coil beyond the shunts',
    controls.jointGapMm !== 0 && `${n(controls.jointGapMm)} mm more gap`,
    metal !== null && `fed winding of ${metal}`,
    controls.endOnCore && 'an end of the secondary on the core',
    autoOff !== null && `meters off after ${autoOff} min`,
    timeFactor !== 1 && `time ${timeFactor} times faster`,
  ];
  return words.filter((word) => word !== false);
}

/** The truth of a practice bench as it is recorded. */
export function practiceTruth(controls: PracticeControls, lying: LyingFault, isHidden: boolean): PracticeTruth {
  const set = settingWords(controls);
  const fault =
    lying.fault === 'none' ? 'no fault' : isHidden ? 'one fault is hidden in it' : `fault: ${faultTold(lying)}`;
  return {
    text: `Practice bench: ${[...set, fault].join('; ')}.`,
    controls: { ...controls },
    isHidden,
    fault: lying.fault,
    sizes: { ...lying.sizes },
  };
}
