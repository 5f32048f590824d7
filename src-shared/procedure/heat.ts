import { hasOwnNumber } from './own-number.ts';
import { given, typedCelsius, type Calculated, type RunMaterial, type SeriesPoint } from './material.ts';

/** A hand on the key is good to half a second either way (common practice, no source). In s, standard uncertainty. */
const switchOffU = 0.5 / Math.sqrt(3);

/** A continuous reading as an input; the meter's own part and the part that its readings share. */
const measured = ({ value, u, shared }: SeriesPoint) => ({ value, u, ...(shared === null ? {} : { shared }) });

/** The readings of a channel with power on. */
export function whileOn({ series, onAtMs, offAtMs }: RunMaterial, channel: string): readonly SeriesPoint[] {
  if (onAtMs === null) return [];
  return (series[channel] ?? []).filter(({ atMs }) => atMs >= onAtMs && atMs <= (offAtMs ?? Infinity));
}

/**
 * The ambient that a rise is counted from: the mean over the last quarter of the run (IEC 60034-1), else the session's.
 * Its doubt is that of one reading: a slow drift does not average out. Null when nobody read any.
 */
function ambientAtEnd(material: RunMaterial) {
  const readings = whileOn(material, 'ambient');
  const last = readings.at(-1);
  if (last === undefined || material.onAtMs === null) {
    return material.ambientCelsius === null ? null : typedCelsius(material.ambientCelsius);
  }
  const from = last.atMs - (last.atMs - material.onAtMs) / 4;
  const quarter = readings.filter(({ atMs }) => atMs >= from);
  const value = quarter.reduce((sum, reading) => sum + reading.value, 0) / quarter.length;
  return { value, u: last.u };
}

/** The input of `heat-run` for one body, in s from power on. */
export function heatInput(material: RunMaterial, channel: string, limit: Readonly<Record<string, unknown>>) {
  const onAtMs = material.onAtMs ?? 0;
  return {
    points: whileOn(material, channel).map((reading) => ({
      seconds: (reading.atMs - onAtMs) / 1000,
      celsius: measured(reading),
    })),
    ...given('ambientCelsius', ambientAtEnd(material)),
    ...limit,
  };
}

/** The input of `cooling` from the ohms read after switch-off; null with fewer than three, or before power off. */
export function coolingInput(material: RunMaterial) {
  const { offAtMs, series } = material;
  if (offAtMs === null) return null;
  const after = (series['cooling-ohms'] ?? []).filter(({ atMs }) => atMs > offAtMs);
  return after.length < 3
    ? null
    : {
        points: after.map((reading) => ({ seconds: (reading.atMs - offAtMs) / 1000, ohms: measured(reading) })),
        switchOffSeconds: { value: 0, u: switchOffU },
      };
}

/** The temperature of the winding at switch-off from its cold and its hot resistance; nothing where one is missing. */
export function windingRise(material: RunMaterial, cooling: unknown): readonly Calculated[] {
  const hotOhms = hasOwnNumber(cooling, 'atSwitchOff');
  const winding = material.windings.find(({ windingId }) => windingId === material.fedWindingId)?.fields;
  const ambient = ambientAtEnd(material);
  if (hotOhms === null || winding?.ohms === undefined || winding.ohmsCelsius === undefined || ambient === null)
    return [];
  return [
    {
      calculation: 'temperature-by-resistance',
      input: {
        coldOhms: winding.ohms,
        coldCelsius: typedCelsius(winding.ohmsCelsius),
        hotOhms,
        ambientCelsius: ambient,
        ...(winding.metal === 'not-known' ? {} : { metal: winding.metal }),
      },
    },
  ];
}
