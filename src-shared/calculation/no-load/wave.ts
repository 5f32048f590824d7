import type { Estimate } from '../../quantity/estimate.ts';
import { caution, type Caution } from '../answer.ts';

/** What of a no-load reading tells about the wave and the meters. */
interface Wave {
  readonly volts: Estimate;
  readonly voltsAverageResponding?: Estimate;
  readonly setBy?: 'average-responding' | 'true-rms';
  readonly ammeterKind?: 'average-responding' | 'true-rms';
  readonly hertz?: Estimate;
}

/** The most that the two voltmeters may differ by for the correction to hold (IEC 60076-1:2011). */
const waveLimit = 0.03;
/** (U' − U) / U': below 0 for a peaky wave (IEC 60076-1:2011). */
export const waveDifference = (volts: number, average: number) => (average - volts) / average;

type WaveVerdict = 'none' | 'applied' | 'not-set-by-average' | 'too-distorted';
/** Whether the correction for the wave holds: set by the average-responding voltmeter, and the two within 3 %. */
export function waveVerdict({ volts, voltsAverageResponding, setBy }: Wave): WaveVerdict {
  if (voltsAverageResponding === undefined) return 'none';
  if (setBy === 'true-rms') return 'not-set-by-average';
  // A hair over, so that exactly 3 % counts as 3 %.
  const most = waveLimit * (1 + 1e-9);
  return Math.abs(waveDifference(volts.value, voltsAverageResponding.value)) <= most ? 'applied' : 'too-distorted';
}

export function waveCautions(wave: WaveVerdict, { setBy }: Wave): readonly Caution[] {
  if (wave === 'applied' && setBy === undefined) {
    return [
      caution(
        'wave-assumed-set',
        'Corrected for the wave as if the volts were set by the average-responding meter: say so if they were not.',
      ),
    ];
  }
  if (wave === 'not-set-by-average') {
    return [
      caution(
        'wave-not-corrected',
        'Not corrected for the wave: the volts were not set by the average-responding meter.',
      ),
    ];
  }
  if (wave === 'too-distorted') {
    return [
      caution(
        'wave-not-corrected',
        'Not corrected for the wave: the two voltmeters differ by more than 3 %, where the correction does not hold.',
      ),
    ];
  }
  return [];
}

export const meterCautions = ({ hertz, ammeterKind }: Wave): readonly Caution[] => [
  ...(hertz === undefined
    ? [caution('hertz-not-given', 'Without the frequency this is not to be compared with another run.')]
    : []),
  ...(ammeterKind === 'average-responding'
    ? [caution('peaky-current', 'A saturated no-load current is peaky: this ammeter may read it a fifth low.')]
    : []),
];
