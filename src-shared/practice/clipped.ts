import type { ProcedureChannel } from '../procedure/procedure.ts';
import type { Observed, PracticeBench } from './observed.ts';
import { ohmsAt, type PracticeWinding } from './windings.ts';
import { shownBy, type Responding, type WaveFacts } from './wave.ts';

/** What a meter is clipped to: a channel of the procedure, as the meter of that kind sees it. */
export interface Clipped extends Responding {
  readonly channel: Pick<ProcedureChannel, 'id' | 'kind' | 'unit' | 'on'>;
}

/** Direct current of the ohms test, in A. */
const testAmps = 1;
/** What reads between core and earth pin, and between a winding and the core that one of its ends is joined to, in Ω. Invented. */
const earthOhms = { joined: 0.08, open: 2.2e6 };
const bondedOhms = 1.5;
/** A lug warms by so much for each watt in it and takes half of the winding's own rise, in K/W. It is small: taken as settled. Invented. */
const lugKelvinPerWatt = 8;
const ofWindingRise = 0.5;

const dark: WaveFacts = { rms: 0, averageResponding: 0, peak: 0 };

/** The winding that a channel is clipped to. */
function clippedTo(
  { transformer, fedWindingId }: PracticeBench,
  on: Clipped['channel']['on'],
): PracticeWinding | undefined {
  const { windings } = transformer;
  return windings.find(({ id, role }) => (on === 'fed' || on === null ? id === fedWindingId : role === on));
}

/** The true value at a meter's leads, in the channel's unit; infinite where nothing conducts. */
export function valueAt(bench: PracticeBench, observed: Observed, { channel, ...meter }: Clipped): number {
  const shown = (wave: WaveFacts | undefined) => shownBy(meter, wave ?? dark);
  const winding = clippedTo(bench, channel.on);
  const secondary = clippedTo(bench, 'secondary');
  const { temperatures } = bench;
  const { faults, roomCelsius } = bench;
  const celsius = (id: string): number => {
    if (id === 'ambient') return roomCelsius;
    if (id === 'lug-temperature') {
      const watts = (observed.loadAmps[secondary?.id ?? '']?.rms ?? 0) ** 2 * faults.lugOhms;
      return roomCelsius + ofWindingRise * (temperatures.winding - roomCelsius) + lugKelvinPerWatt * watts;
    }
    return id === 'core-temperature' ? temperatures.core : temperatures.winding;
  };
  switch (channel.unit) {
    case '°C':
      return celsius(channel.id);
    case 'Hz':
      return bench.isOn ? bench.supply.hertz : 0;
    case 'W':
      return observed.watts;
    case 'Ω': {
      if (channel.id === 'earth-ohms') return faults.earthOpen ? earthOhms.open : earthOhms.joined;
      if (channel.kind === 'insulation') {
        return bench.transformer.windings.some(({ endOnCore }) => endOnCore) ? bondedOhms : faults.insulationOhms;
      }
      return winding === undefined ? Infinity : ohmsAt(winding, temperatures.winding) + faults.feedJointOhms;
    }
    case 'A':
      if (channel.kind === 'resistance') return testAmps;
      return shown(channel.on === 'secondary' ? observed.loadAmps[secondary?.id ?? ''] : observed.lineAmps);
    case 'V': {
      if (channel.kind === 'resistance') {
        return winding === undefined ? 0 : testAmps * ohmsAt(winding, temperatures.winding);
      }
      if (channel.id === 'lug-volts') return faults.lugOhms * (observed.loadAmps[secondary?.id ?? '']?.rms ?? 0);
      if (channel.id === 'joined-volts') {
        const [first, second] = [shown(observed.volts[bench.fedWindingId]), shown(observed.volts[secondary?.id ?? ''])];
        return faults.leadSwapped ? Math.abs(first - second) : first + second;
      }
      return shown(observed.volts[winding?.id ?? '']);
    }
    default:
      return 0;
  }
}
