import { convert, symbolIn, type UnitSystem } from '../../../../src-shared/quantity/unit.ts';
import type { Answered } from '../working-form.svelte.ts';
import { level, lineThrough, type Plot } from './plot.ts';
import { readPoints, readValue } from './read-points.ts';

/** Seconds in the unit that a run of this length is told in. */
function timeUnit(seconds: number): { readonly unit: string; readonly size: number } {
  if (seconds >= 3 * 3600) return { unit: 'h', size: 3600 };
  return seconds >= 600 ? { unit: 'min', size: 60 } : { unit: 's', size: 1 };
}

const degrees = (celsius: number, system: UnitSystem): number =>
  system === 'us' ? (convert(celsius, '°C', '°F') ?? celsius) : celsius;

/** The points of a heat run, the curve through them, where it ends and the limit. */
export function heatRunPlot(input: unknown, { results }: Answered, system: UnitSystem): Plot | null {
  const points = readPoints(input, 'seconds', 'celsius');
  const [end, start, tau] = ['finalCelsius', 'startCelsius', 'timeConstant'].map((key) => readValue(results, key));
  if (points === null || !end || !start || !tau) return null;
  const limit = readValue(input, 'limitCelsius');
  const last = Math.max(...points.map(({ x }) => x.value));
  const time = timeUnit(last);
  const toDegree = system === 'us' ? 1.8 : 1;
  const until = (last * 1.15) / time.size;
  const at = (x: number) =>
    degrees(end.value + (start.value - end.value) * Math.exp((-x * time.size) / tau.value), system);
  return {
    title: 'Temperature over time',
    x: { label: 'From power on', unit: time.unit },
    y: { label: 'Temperature', unit: symbolIn(system, '°C') },
    points: points.map(({ x, y }) => ({
      x: x.value / time.size,
      y: degrees(y.value, system),
      u: y.u === null ? null : y.u * toDegree,
    })),
    lines: [
      { kind: 'fit', label: '', points: lineThrough(0, until, at) },
      { kind: 'end', label: 'ends here', points: level(0, until, degrees(end.value, system)) },
      ...(limit === null
        ? []
        : [{ kind: 'limit', label: 'limit', points: level(0, until, degrees(limit.value, system)) } as const]),
    ],
  };
}

/** The points of a cooling run, and the curve back to the instant of switch-off. */
export function coolingPlot(input: unknown, { results, working }: Answered, system: UnitSystem): Plot | null {
  const isOhms = readPoints(input, 'seconds', 'ohms') !== null;
  const points = readPoints(input, 'seconds', isOhms ? 'ohms' : 'celsius');
  const [first, tau] = ['atSwitchOff', 'timeConstant'].map((key) => readValue(results, key));
  const rest = working.find(({ symbol }) => symbol === 'A')?.value;
  if (points === null || !first || !tau || rest === undefined) return null;
  const off = readValue(input, 'switchOffSeconds')?.value ?? 0;
  const last = Math.max(...points.map(({ x }) => x.value));
  const time = timeUnit(last);
  const shown = (value: number) => (isOhms ? value : degrees(value, system));
  const step = isOhms || system === 'metric' ? 1 : 1.8;
  const at = (x: number) => shown(rest + (first.value - rest) * Math.exp(-(x * time.size - off) / tau.value));
  return {
    title: 'Cooling, back to switch-off',
    x: { label: 'After switch-off', unit: time.unit },
    y: isOhms ? { label: 'Resistance', unit: 'Ω' } : { label: 'Temperature', unit: symbolIn(system, '°C') },
    points: points.map(({ x, y }) => ({
      x: x.value / time.size,
      y: shown(y.value),
      u: y.u === null ? null : y.u * step,
    })),
    lines: [
      { kind: 'fit', label: '', points: lineThrough(off / time.size, last / time.size, at) },
      { kind: 'end', label: 'at switch-off', points: level(off / time.size, last / time.size, shown(first.value)) },
    ],
  };
}
