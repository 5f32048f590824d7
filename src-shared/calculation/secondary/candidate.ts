import { takeApart } from '../../quantity/sources.ts';
import { conductors, resistanceFactor } from '../conductor.ts';
import { buildOf, layersOf, meanMiddle, type LayRules } from '../window-fit/layers.ts';
import { circuitOf, fedCircuit, loadOf, strandMetres } from './circuit.ts';
import type { Circuit, CircuitValues, Load, Wound } from './circuit.ts';
import { dowellFactor, skinDepth } from './dowell.ts';
import type { SecondaryInput } from './input.ts';
import type { WireOption } from './wire-option.ts';

/** What every candidate is judged in: plain numbers. */
export interface Setting {
  readonly circuit: Circuit;
  readonly values: CircuitValues;
  readonly load: Load;
  readonly target: number;
  readonly windowArea: number;
  readonly windowWidth: number;
  readonly freeOut: number;
  readonly room: Pick<LayRules, 'spacing' | 'interlayer' | 'base' | 'freeAlong'>;
  readonly hertz: number | null;
  readonly mostFill: number;
  readonly mostDensity: number;
}

export function settingOf(given: SecondaryInput): Setting {
  const { windowWidthMm, windowHeightMm, clearanceMm, marginMm, baseMm, interlayerMm, spacing } = given;
  const circuit = circuitOf(given);
  return {
    circuit,
    values: takeApart(circuit).values,
    load: loadOf(given),
    target: given.loadVolts.value,
    windowWidth: windowWidthMm.value,
    windowArea: windowWidthMm.value * windowHeightMm.value,
    freeOut: windowWidthMm.value - clearanceMm.value,
    room: {
      spacing,
      interlayer: interlayerMm.value,
      base: baseMm.value,
      freeAlong: windowHeightMm.value - 2 * marginMm.value,
    },
    hertz: given.hertz?.value ?? null,
    mostFill: given.mostFill,
    mostDensity: given.maxCurrentDensity,
  };
}

/** A way to wind the secondary with what it comes to, whether or not it can be done. Lengths in mm. */
export interface Candidate extends Wound {
  readonly strandsDeep: number;
  readonly layers: number;
  readonly turnsPerLayer: number;
  readonly build: number;
  /** Insulation included, and of the metal alone: parts of the window. */
  readonly fill: number;
  readonly copperFill: number;
  /** A/mm². */
  readonly density: number;
  readonly loaded: number;
  readonly copperLoss: number;
  readonly copperKg: number;
}

/** How strands are put together: so many, in so many rows. */
export interface Bunch {
  readonly strands: number;
  readonly deep: number;
}

/** Every way to lay 1 to `most` strands evenly. */
export const bunches = (most: number): readonly Bunch[] =>
  Array.from({ length: most }, (_, index) => index + 1).flatMap((strands) =>
    Array.from({ length: strands }, (_, index) => index + 1)
      .filter((deep) => strands % deep === 0)
      .map((deep) => ({ strands, deep })),
  );

const overallArea = ({ kind, alongMm, outMm }: WireOption) => (kind === 'strip' ? 1 : Math.PI / 4) * alongMm * outMm;

export const densityOf = ({ values }: Setting, option: WireOption, { strands }: Bunch): number =>
  values.loadAmps / (option.areaMm2 * strands);

export const fillOf = ({ windowArea }: Setting, option: WireOption, { strands }: Bunch, turns: number): number =>
  (turns * strands * overallArea(option)) / windowArea;

/** Turns for the target with no drop at all: no candidate needs fewer, save one whole turn. */
export const idealTurns = ({ target, values }: Setting): number => (target * values.primaryTurns) / values.primaryVolts;

/** How much of the layer along the limb is metal, as a rectangle as deep as the conductor. */
const porosity = (setting: Setting, option: WireOption, across: number, turnsPerLayer: number) =>
  Math.min(1, (turnsPerLayer * across * option.areaMm2) / option.depthMm / setting.room.freeAlong);

function woundAs(setting: Setting, option: WireOption, { strands, deep }: Bunch, turns: number) {
  const across = strands / deep;
  const rules: LayRules = {
    turns,
    strandAlong: option.alongMm,
    strandOut: option.outMm,
    strandsAlong: across,
    strandsDeep: deep,
    ...setting.room,
  };
  const laid = layersOf(rules);
  if (laid.layers === 0) return null;
  const { resistivity20 } = conductors[option.metal];
  const acFactor =
    setting.hertz === null
      ? 1
      : dowellFactor(
          (option.depthMm /
            skinDepth(resistivity20 * resistanceFactor(option.metal, setting.values.celsius), setting.hertz)) *
            Math.sqrt(porosity(setting, option, across, Math.min(turns, laid.turnsPerLayer))),
          laid.layers * deep,
        );
  const wound: Wound = { turns, strands, option, meanMiddleMm: meanMiddle(rules, laid), acFactor };
  return { wound, laid, build: buildOf(rules, laid.layers) };
}

/** Drop that takes more than this part of the turns is no design: the search for turns ends there. */
const mostTurnsOverIdeal = 1.5;
const mostSteps = 12;

/**
 * The whole number of turns that comes nearest to the target under load; null when no turn has room along the limb, or when
 * the drop runs away with every turn added.
 */
export function candidateOf(setting: Setting, option: WireOption, bunch: Bunch): Candidate | null {
  const { values, load, target } = setting;
  const ideal = idealTurns(setting);
  const loadedAt = (turns: number) => {
    const way = woundAs(setting, option, bunch, turns);
    return way === null ? NaN : fedCircuit(values, way.wound, load).loaded;
  };
  const distance = (turns: number) => {
    const loaded = turns < 1 ? NaN : loadedAt(turns);
    return Number.isNaN(loaded) ? Infinity : Math.abs(loaded - target);
  };
  let turns = Math.max(1, Math.round(ideal));
  for (let step = 0; step < mostSteps; step += 1) {
    const loaded = loadedAt(turns);
    if (!(loaded > 0) || turns > mostTurnsOverIdeal * ideal + 2) return null;
    const next = Math.max(1, Math.round((turns * target) / loaded));
    if (next === turns) break;
    turns = next;
  }
  let off = distance(turns);
  for (const other of [turns - 1, turns + 1]) {
    const otherOff = distance(other);
    if (otherOff < off) [turns, off] = [other, otherOff];
  }
  const way = woundAs(setting, option, bunch, turns);
  if (way === null) return null;
  const { wound, laid, build } = way;
  const { loaded, copperLoss } = fedCircuit(values, wound, load);
  return {
    ...wound,
    strandsDeep: bunch.deep,
    layers: laid.layers,
    turnsPerLayer: laid.turnsPerLayer,
    build,
    fill: fillOf(setting, option, bunch, turns),
    copperFill: (turns * bunch.strands * option.areaMm2) / setting.windowArea,
    density: densityOf(setting, option, bunch),
    loaded,
    copperLoss,
    copperKg: (strandMetres(values, wound, load) / 1000) * bunch.strands * option.kgPerKm,
  };
}
