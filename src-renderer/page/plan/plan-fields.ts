import type { PhysicalResult } from '../../../src-shared/calculation/answer.ts';
import type { SecondaryChoice } from '../../../src-shared/calculation/secondary/choice.ts';
import type { PlanFields } from '../../../src-shared/record/plan.ts';
import type { PlannedOutput } from '../../../src-shared/record/planned-output.ts';
import type { Prediction } from './added-turns.ts';
import type { PlannedHeat } from './plan-heat.ts';
import type { PlanNumbers } from './plan-asked.ts';
import type { PlanSnapshot } from './plan-form.svelte.ts';
import { restsOf, type PlanBasis } from './plan-record.ts';
import type { OutputAsked, OutputDone, PlannedAll } from './planned.ts';
import { windowPicture, type WindingPicture } from './window-picture.ts';

const figure = ({ value, u }: Pick<PhysicalResult, 'value' | 'u'>) => ({ value, u });
const figureOrNull = (result: Pick<PhysicalResult, 'value' | 'u'> | undefined | null) =>
  result === undefined || result === null ? null : figure(result);

function wireOf(choice: SecondaryChoice, { strand }: WindingPicture): PlannedOutput['wire'] {
  const { wire: name, strands, strandsDeep, kind, areaMm2, alongMm, outMm } = choice;
  const bunch = { name, strands, strandsDeep };
  if (kind === 'round') return { kind, ...bunch, bareDiameterMm: strand.bareAlong, overallMm: alongMm };
  if (kind === 'cable') return { kind, ...bunch, areaMm2, overallMm: alongMm };
  return {
    ...{ kind, ...bunch, widthMm: strand.bareAlong, thicknessMm: strand.bareOut },
    ...{ overallWidthMm: alongMm, overallThicknessMm: outMm },
  };
}

function layersOf({ choice, place }: OutputDone, interlayerMm: number): PlannedOutput['layers'] {
  const { layers, turnsPerLayer, turns, strandsDeep, outMm } = choice;
  const depthMm = strandsDeep * outMm;
  return Array.from({ length: layers }, (_, layer) => ({
    turns: layer === layers - 1 ? turns - (layers - 1) * turnsPerLayer : turnsPerLayer,
    fromMm: place.innerMm + place.baseMm + layer * (depthMm + interlayerMm),
    depthMm,
  }));
}

function outputFields(
  asked: OutputAsked,
  state: OutputDone,
  numbers: PlanNumbers,
  drawn: WindingPicture,
): PlannedOutput {
  const { choice } = state;
  return {
    key: asked.key,
    label: asked.label.trim() === '' ? `Output ${asked.key}` : asked.label,
    loadVolts: state.volts,
    loadAmps: state.amps,
    powerFactor: asked.numbers.powerFactor ?? 1,
    turns: choice.turns,
    taps: state.taps.flatMap(({ label, turns, noLoadVolts }) =>
      turns === null || noLoadVolts === null ? [] : [{ label, turns, noLoadVolts }],
    ),
    wire: wireOf(choice, drawn),
    layers: layersOf(state, numbers.interlayer ?? 0),
    baseMm: state.place.baseMm,
    interlayerMm: numbers.interlayer ?? 0,
    marginMm: numbers.margin ?? 0,
    lengthMm: choice.lengthToCut.value * 1000,
    copperKg: choice.copperMass.value,
    predicted: {
      noLoadVolts: figure(choice.noLoadVolts),
      loadVolts: figure(choice.loadedVolts),
      ohms: figure(choice.ohms),
      celsius: numbers.celsius ?? 75,
      lossWatts: figure(choice.secondaryLoss),
      currentDensity: figure(choice.currentDensity),
    },
  };
}

/** What the sheet shows, as it would be kept. */
export interface Shown {
  readonly basis: PlanBasis;
  readonly numbers: PlanNumbers;
  readonly hertz: 50 | 60;
  readonly outputs: readonly OutputAsked[];
  readonly planned: PlannedAll;
  readonly asked: PlanSnapshot;
  readonly title: string;
  readonly opening: PlanFields['opening'];
  readonly needId: number | null;
  /** Windings that stay, for which nothing was taken off the window. */
  readonly notTakenOff: readonly string[];
  /** For the added turns, from a sweep; undefined without one. */
  readonly prediction: Prediction | undefined;
  readonly heat: PlannedHeat;
}

/** The version that would be kept now, or the sentence that says what stands in its way. */
export function planFields(shown: Shown): PlanFields | string {
  const { basis, numbers, planned, asked, title, opening, needId, prediction, heat, notTakenOff } = shown;
  const { added = 0, windowWidth, windowHeight, inner = 0, clearance = 0, primaryVolts } = numbers;
  if (added % 0.5 !== 0) return 'Added turns must be whole or half turns.';
  if (added > 0 && planned.added?.fits === false) return 'The added turns do not fit.';
  const open = planned.outputs.findIndex(({ kind }) => kind !== 'done');
  if (open !== -1) {
    return `${shown.outputs[open]?.label ?? 'An output'} is not planned yet: finish it, or take it off.`;
  }
  const picture = windowPicture(
    numbers,
    planned,
    shown.outputs.map(({ key }) => key),
  );
  if (picture === null || windowWidth === undefined || windowHeight === undefined || primaryVolts === undefined) {
    return 'There is nothing to keep yet.';
  }
  const outputs: PlannedOutput[] = [];
  for (const [at, state] of planned.outputs.entries()) {
    const one = shown.outputs[at];
    const drawn = picture.windings.find(({ key }) => key === one?.key);
    if (state.kind !== 'done' || one === undefined || drawn === undefined) return 'There is nothing to keep yet.';
    if (state.taps.some(({ turns }) => turns === null))
      return `A tap of ${one.label} has no volts within the output’s.`;
    outputs.push(outputFields(one, state, numbers, drawn));
  }
  return {
    title:
      title.trim() === ''
        ? outputs
            .map(({ label, loadVolts }) => `${label} ${loadVolts} V`)
            .join(', ')
            .slice(0, 80)
        : title,
    ...(needId === null ? {} : { needId }),
    addedTurns: added,
    opening,
    asked,
    outputs,
    window: {
      widthMm: inner + windowWidth,
      heightMm: windowHeight,
      innerMm: inner + (planned.added?.buildMm ?? 0),
      clearanceMm: clearance,
      leftMm: Math.max(0, planned.leftMm),
      ...(notTakenOff.length === 0 ? {} : { notTakenOff: [...notTakenOff] }),
    },
    line: { volts: primaryVolts, hertz: shown.hertz },
    noLoad: {
      amps: figureOrNull(prediction?.amps),
      watts: figureOrNull(prediction?.watts),
      ampsIfOpposing: added > 0 ? figureOrNull(prediction?.ampsIfOpposing) : null,
    },
    heat: { noLoad: figureOrNull(heat.noLoad), loaded: figureOrNull(heat.loaded) },
    rests: restsOf(basis),
  };
}
