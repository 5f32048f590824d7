import { calculate } from '../../calculation/calculate.ts';
import { resistanceFactor } from '../../calculation/conductor.ts';
import type { Build, Turns, WindingFields } from '../../record/build.ts';
import type { PlannedOutput } from '../../record/planned-output.ts';
import type { BuildSheetParts } from './facts.ts';

/** Surge and a fuse to begin with, in A. */
export interface SurgeAndFuse {
  readonly inrush: number;
  readonly fuseFrom: number;
  readonly fuseTo: number;
  readonly whoseRule: string;
}

/** Figures that the bench is compared with; null where the record does not tell. */
export interface SheetFigures {
  /** The untouched primary, and with the turns that are added to it. */
  readonly primary: WindingFields | undefined;
  readonly oldTurns: number | null;
  readonly newTurns: number | null;
  /** At the line volts of the plan. */
  readonly voltsPerTurn: number | null;
  /** A.c. volts on the primary at which every known winding stays within 50 V. */
  readonly feedVolts: number;
  /** What all loads together draw through the primary, without the no-load current. */
  readonly primaryAmps: number;
  readonly surge: SurgeAndFuse | null;
  /** No-load amps that a gap of `gapMm` in all joints together adds. */
  readonly gapAmps: number | null;
}

/** A gap that a good joint made by hand leaves, all of one line of flux together, in mm: common practice, no source. */
export const gapMm = 0.05;

/** Small isolated sources that are about, in V a.c., the highest first. */
const sources = [24, 12, 9, 6, 5, 3, 2, 1];
const usualSource = 12;

export const turnsValue = (turns: Turns | undefined): number | null =>
  turns === undefined || turns.kind === 'unknown' ? null : turns.kind === 'counted' ? turns.turns : turns.value;

/** Volts of an output over those of the primary, both without load. */
export const ratioOf = (output: PlannedOutput, lineVolts: number): number =>
  output.predicted.noLoadVolts.value / lineVolts;

/** Of the whole output at 20 °C, in Ω; planned windings are of copper. */
export const coldOhms = ({ predicted }: PlannedOutput): number =>
  predicted.ohms.value / resistanceFactor('copper', predicted.celsius);

/**
 * What a strand with one turn more or fewer drives through itself and back through all others together, at line volts, cold,
 * with no load at all, in A: Ohm’s law round that loop.
 */
export function oneTurnAmps(output: PlannedOutput, voltsPerTurn: number): number {
  const { strands } = output.wire;
  const strandOhms = coldOhms(output) * strands;
  return voltsPerTurn / (strandOhms * (1 + 1 / (strands - 1)));
}

/** The highest usual source that keeps every known winding, old ones that may still be on and the planned ones, within 50 V. */
function lowFeed({ build, version }: BuildSheetParts, newTurns: number | null): number {
  if (newTurns === null) return sources.at(-1) ?? 1;
  const { outputs, line } = version.fields;
  const kept = build.windings.filter(({ fields }) => fields.role !== 'primary' && fields.role !== 'test-coil');
  const answer = calculate('winding-volts', {
    windings: [
      { name: 'primary', role: 'primary', turns: newTurns },
      ...kept.flatMap(({ fields }) => {
        const turns = turnsValue(fields.turns);
        return turns === null ? [] : [{ name: fields.label, role: 'other', turns }];
      }),
      ...outputs.map((output) => ({
        name: output.label,
        role: 'secondary',
        turns: ratioOf(output, line.volts) * newTurns,
      })),
    ],
    fedIndex: 0,
    feedVolts: usualSource,
    isolatedSource: true,
  });
  const most = answer.ok ? answer.results.highestFeedVolts.value : 1;
  return sources.find((volts) => volts <= Math.min(most, usualSource)) ?? 1;
}

/** Amps of a surge and its fuse; null while the resistance of the primary is not known. */
function surgeOf(parts: BuildSheetParts, primary: WindingFields | undefined, primaryAmps: number): SurgeAndFuse | null {
  const { addedTurns, line } = parts.version.fields;
  const [ohms, turns] = [primary?.ohms?.value, turnsValue(primary?.turns)];
  if (ohms === undefined || turns === null) return null;
  const answer = calculate('inrush-and-fuse', {
    volts: line.volts,
    // House wiring only lowers the surge: without it the figure stays an upper bound.
    supplyOhms: 0,
    primaryOhms: ohms * (1 + addedTurns / turns),
    ratedAmps: primaryAmps,
    rule: parts.system === 'us' ? 'us-primary-only' : 'common-practice',
  });
  if (!answer.ok) return null;
  const { inrushBound, fuseFrom, fuseTo, whoseRule } = answer.results;
  return { inrush: inrushBound.value, fuseFrom: fuseFrom.value, fuseTo: fuseTo.value, whoseRule };
}

/** I = g B / (µ0 N √2): Ampère's law round the core, as in the calculation `joint-gap`. */
function gapAmpsOf({ core, version }: BuildSheetParts, turns: number | null): number | null {
  const { tongue, stack, stackingFactor } = core.fields;
  const { volts, hertz } = version.fields.line;
  if (turns === null || tongue === undefined || stack === undefined) return null;
  const flux = calculate('flux-density', {
    volts,
    hertz,
    turns,
    tongueMm: tongue,
    stackMm: stack,
    ...(stackingFactor === undefined ? {} : { stackingFactor }),
  });
  if (!flux.ok) return null;
  return ((gapMm / 1000) * flux.results.peakFluxDensity.value) / (4e-7 * Math.PI * turns * Math.SQRT2);
}

const primaryOf = (build: Build): WindingFields | undefined =>
  build.windings.find(({ fields }) => fields.role === 'primary')?.fields;

export function figuresOf(parts: BuildSheetParts): SheetFigures {
  const { addedTurns, outputs, line } = parts.version.fields;
  const primary = primaryOf(parts.build);
  const oldTurns = turnsValue(primary?.turns);
  const newTurns = oldTurns === null || oldTurns + addedTurns < 0.5 ? null : oldTurns + addedTurns;
  const primaryAmps = outputs.reduce((sum, output) => sum + output.loadAmps * ratioOf(output, line.volts), 0);
  return {
    primary,
    oldTurns,
    newTurns,
    voltsPerTurn: newTurns === null ? null : line.volts / newTurns,
    feedVolts: lowFeed(parts, newTurns),
    primaryAmps,
    surge: surgeOf(parts, primary, primaryAmps),
    gapAmps: gapAmpsOf(parts, newTurns),
  };
}
