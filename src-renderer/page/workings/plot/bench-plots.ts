import * as v from 'valibot';
import type { Answered } from '../working-form.svelte.ts';
import { level, lineThrough, type Plot } from './plot.ts';
import { readPoints, readValue } from './read-points.ts';

const Interval = v.object({ primaryTurns: v.object({ interval95: v.nullable(v.tuple([v.number(), v.number()])) }) });
const Reading = v.object({ coilVolts: v.unknown(), primaryVolts: v.unknown() });
const Readings = v.object({ readings: v.array(Reading) });

/** The turns by each reading alone, against those by all of them. */
export function testCoilPlot(input: unknown, { results, working }: Answered): Plot | null {
  const alone = working.filter(({ symbol }) => symbol.startsWith('N['));
  const turns = readValue(results, 'primaryTurns');
  if (alone.length < 2 || turns === null) return null;
  const readings = v.safeParse(Readings, input);
  const isOneEach = readings.success && readings.output.readings.length === alone.length;
  const interval = v.safeParse(Interval, results);
  const ends = interval.success ? (interval.output.primaryTurns.interval95 ?? []) : [];
  const [from, to] = [0.5, alone.length + 0.5];
  return {
    title: 'Turns by each reading',
    x: { label: 'Reading', unit: '', isCount: true },
    y: { label: 'Turns', unit: '' },
    points: alone.map(({ value }, at) => ({
      x: at + 1,
      y: value,
      u: isOneEach ? ownDoubt(readings.output.readings[at], value) : null,
    })),
    lines: [
      { kind: 'fit', label: '', points: level(from, to, turns.value) },
      ...ends.map(
        (end, at) => ({ kind: 'bound', label: at === 0 ? '' : '95 %', points: level(from, to, end) }) as const,
      ),
    ],
  };
}

/** What a reading's own parts do to its turns; what the meters share moves all of them alike. */
function ownDoubt(reading: v.InferOutput<typeof Reading> | undefined, turns: number): number | null {
  const [coil, primary] = [readValue(reading, 'coilVolts'), readValue(reading, 'primaryVolts')];
  if (coil === null || primary === null) return null;
  return turns * Math.hypot((coil.u ?? 0) / coil.value, (primary.u ?? 0) / primary.value);
}

const Residuals = v.object({ residuals: v.array(v.number()) });

/** Output volts over load current, the sag of the house taken out where it was. */
export function loadedRunPlot(input: unknown, { results }: Answered): Plot | null {
  const points = readPoints(input, 'amps', 'volts');
  const off = v.safeParse(Residuals, results);
  const [open, ohms] = [readValue(results, 'openCircuitVolts'), readValue(results, 'outputResistance')];
  if (points === null || !off.success || open === null || ohms === null) return null;
  const at = (amps: number) => open.value - ohms.value * amps;
  return {
    title: 'Output volts over load current',
    x: { label: 'Load current', unit: 'A' },
    y: { label: 'Output', unit: 'V' },
    points: points.map(({ x, y }, index) => ({
      x: x.value,
      y: at(x.value) + (off.output.residuals[index] ?? 0),
      u: y.u,
    })),
    lines: [{ kind: 'fit', label: '', points: lineThrough(0, Math.max(...points.map(({ x }) => x.value)), at, 1) }],
  };
}

/** Core loss by hertz over hertz: where it starts is the hysteresis part, its slope the eddy part. */
export function ironLossPlot(input: unknown, { results }: Answered): Plot | null {
  const points = readPoints(input, 'hertz', 'watts');
  const [start, slope] = [readValue(results, 'wattsPerHertz'), readValue(results, 'wattsPerHertzSquared')];
  if (points === null || start === null || slope === null) return null;
  const last = Math.max(...points.map(({ x }) => x.value));
  return {
    title: 'Core loss by hertz',
    x: { label: 'Frequency', unit: 'Hz' },
    y: { label: 'Loss by hertz', unit: 'W/Hz' },
    points: points.map(({ x, y }) => ({
      x: x.value,
      y: y.value / x.value,
      u: y.u === null ? null : y.u / x.value,
    })),
    lines: [
      { kind: 'fit', label: '', points: lineThrough(0, last, (hertz) => start.value + slope.value * hertz, 1) },
      { kind: 'end', label: 'hysteresis', points: level(0, last, start.value) },
    ],
  };
}

const Physical = v.object({ value: v.number(), u: v.nullable(v.number()) });
const Excitation = v.object({
  curve: v.array(v.object({ voltsPerTurn: Physical, ampereTurns: Physical })),
  drawn: v.array(v.number()),
});

/** The no-load curve: volts per turn over ampere-turns. */
export function excitationPlot(_: unknown, { results }: Answered): Plot | null {
  const parsed = v.safeParse(Excitation, results);
  if (!parsed.success) return null;
  const { curve, drawn } = parsed.output;
  const line = drawn.flatMap((y, at) => (at % 2 === 0 ? [{ x: drawn[at + 1] ?? 0, y }] : []));
  return {
    title: 'No-load curve',
    x: { label: 'Ampere-turns', unit: 'A' },
    y: { label: 'Volts per turn', unit: 'V' },
    points: curve.map(({ voltsPerTurn, ampereTurns }) => ({
      x: ampereTurns.value,
      y: voltsPerTurn.value,
      u: voltsPerTurn.u,
    })),
    lines: line.length < 2 ? [] : [{ kind: 'fit', label: '', points: line }],
  };
}
