import { calculate } from '../../../src-shared/calculation/calculate.ts';
import type { Caution } from '../../../src-shared/calculation/answer.ts';
import { filmedWire } from '../../../src-shared/calculation/film.ts';
import type { SecondaryChoice } from '../../../src-shared/calculation/secondary/choice.ts';
import type { ResultsOf } from '../../../src-shared/calculation/table.ts';
import type { Feeds } from './output-form.svelte.ts';
import { windingNeed } from './output-need.ts';
import type { OutputNumbers, PlanNumbers } from './plan-asked.ts';
import { askSecondary, notYet, roomInput, type Place, type PlanChoices } from './plan-question.ts';
import { filmShare, type PlanBasis } from './plan-record.ts';
import { choiceKey } from './plan-words.ts';

/** One output as the form asks it; numbers that cannot be read are absent. */
export interface OutputAsked {
  readonly key: string;
  readonly label: string;
  readonly numbers: OutputNumbers;
  readonly feeds: Feeds;
  readonly over50: boolean;
  readonly chosen: string;
  /** What stands in one of its boxes cannot be read. */
  readonly isUnread: boolean;
  readonly taps: readonly { readonly label: string; readonly volts: number | null }[];
}

/** A lead taken out on the way: so many turns from the beginning; null where its volts are not within the output's. */
export interface TapPlan {
  readonly label: string;
  readonly turns: number | null;
  readonly noLoadVolts: { readonly value: number; readonly u: number | null } | null;
}

/** An output that can be wound. */
export interface OutputDone {
  readonly kind: 'done';
  /** Alternating, at the winding. */
  readonly volts: number;
  readonly amps: number;
  /** What a rectifier makes of the volts and amps that were asked; null without one. */
  readonly note: string | null;
  readonly results: ResultsOf['secondary'];
  readonly cautions: readonly Caution[];
  readonly choice: SecondaryChoice;
  readonly place: Place;
  readonly taps: readonly TapPlan[];
}

export type OutputState =
  | { readonly kind: 'waits'; readonly text: string }
  | { readonly kind: 'refused'; readonly message: string; readonly path: string }
  | { readonly kind: 'none'; readonly text: string }
  | OutputDone;

/** The added primary turns as a winding of their own, under the outputs. */
export interface AddedWinding {
  readonly turns: number;
  readonly bareMm: number;
  readonly overallMm: number;
  readonly place: Place;
  readonly buildMm: number;
  readonly layers: number;
  readonly turnsPerLayer: number;
  readonly fits: boolean;
  readonly spareMm: number;
  readonly mostTurns: number;
}

/** Everything that a form and the record come to. */
export interface PlannedAll {
  /** Null when nothing is added, or its wire is not known. */
  readonly added: AddedWinding | null;
  readonly outputs: readonly OutputState[];
  /** Left outside the last winding, the clearance not counted, in mm. */
  readonly leftMm: number;
}

const unreadWords = 'A box holds what cannot be read: put right what is marked, and the plan follows.';
const waits = (text: string): OutputState => ({ kind: 'waits', text });

/** Where the added turns of the primary lie, of wire so thick over its film; null where nothing is added or not known. */
function addedWinding(numbers: PlanNumbers): AddedWinding | null {
  const { added = 0, addedWire: bareMm, windowWidth, inner = 0, interlayer = 0, clearance = 0 } = numbers;
  if (added <= 0 || bareMm === undefined || windowWidth === undefined) return null;
  const place: Place = { innerMm: inner, widthMm: windowWidth, baseMm: interlayer, clearanceMm: clearance };
  const overallMm = filmedWire('iec-grade-2', bareMm)?.largestOverallMm ?? bareMm * filmShare;
  const turns = Math.ceil(added);
  const fit = calculate('window-fit', { ...roomInput(numbers, place), turns, overallDiameterMm: overallMm });
  if (!fit.ok) return null;
  const { buildHeight, layers, turnsPerLayer, fits, spare, mostTurns } = fit.results;
  return {
    ...{ turns, bareMm, overallMm, place, layers, turnsPerLayer, fits, mostTurns },
    buildMm: buildHeight.value,
    spareMm: spare.width.value,
  };
}

const power = (asked: OutputAsked): number => {
  const { loadVolts, loadAmps } = asked.numbers;
  if (loadVolts === undefined || loadAmps === undefined) return 0;
  const need = windingNeed(asked.feeds, loadVolts, loadAmps);
  return need.kind === 'alternating' ? need.volts * need.amps : 0;
};

const sum = (all: readonly number[]): number => all.reduce((total, each) => total + each, 0);

function tapsOf(asked: OutputAsked, volts: number, { turns, noLoadVolts }: SecondaryChoice): readonly TapPlan[] {
  return asked.taps.map(({ label, volts: tap }) => {
    const at = tap === null ? 0 : Math.round((turns * tap) / volts);
    if (at < 1 || at >= turns) return { label, turns: null, noLoadVolts: null };
    const { value, u } = noLoadVolts;
    return {
      label,
      turns: at,
      noLoadVolts: { value: (value * at) / turns, u: u === null ? null : (u * at) / turns },
    };
  });
}

function outputState(
  basis: PlanBasis,
  numbers: PlanNumbers,
  choices: PlanChoices,
  asked: OutputAsked,
  place: Place,
  otherVoltAmps: number,
): OutputState {
  const { loadVolts, loadAmps, powerFactor } = asked.numbers;
  if (asked.isUnread) return waits(unreadWords);
  if (loadVolts === undefined || loadAmps === undefined) {
    return waits('Say what the output should do: volts under load, and amps.');
  }
  const need = windingNeed(asked.feeds, loadVolts, loadAmps);
  if (need.kind === 'refused') return { kind: 'refused', message: need.message, path: 'feeds' };
  const answer = askSecondary(basis, numbers, choices, {
    ...{ volts: need.volts, amps: need.amps, powerFactor, over50: asked.over50, place },
    otherPrimaryAmps: otherVoltAmps / (numbers.primaryVolts ?? 1),
    mostFill: (numbers.fill ?? 60) / 100,
  });
  if (!answer.ok) return { kind: 'refused', message: answer.error.message, path: answer.error.path };
  const { results, cautions } = answer;
  const choice = results.choices.find((each) => choiceKey(each) === asked.chosen) ?? results.choices[0];
  if (choice === undefined) return { kind: 'none', text: results.why?.text ?? 'Nothing fits.' };
  const { volts, amps, note } = need;
  return {
    ...{ kind: 'done', volts, amps, note, results, cautions, choice, place },
    taps: tapsOf(asked, volts, choice),
  };
}

/**
 * Every output in turn, from the limb outwards. Each is given its share of the room that is left, as its volt-amperes are
 * to those of the ones still to come (equal current density; common practice), or the height that the person gave it;
 * what it does not use goes on to the next.
 */
export function planAll(
  basis: PlanBasis,
  numbers: PlanNumbers,
  choices: PlanChoices,
  outputs: readonly OutputAsked[],
): PlannedAll {
  const reason = notYet(basis, numbers, choices) ?? (choices.isUnread ? unreadWords : null);
  if (reason !== null) return { added: null, outputs: outputs.map(() => waits(reason)), leftMm: 0 };
  const { windowWidth = 0, inner = 0, base = 0, between = 0, clearance = 0 } = numbers;
  const added = addedWinding(numbers);
  const powers = outputs.map(power);
  const all = sum(powers);
  let from = added?.buildMm ?? 0;
  const states = outputs.map((asked, at): OutputState => {
    const left = windowWidth - from;
    const isLast = at === outputs.length - 1;
    const rest = sum(powers.slice(at));
    const free = left - (isLast ? 0 : clearance);
    const share = isLast || rest === 0 ? 1 : (powers[at] ?? 0) / rest;
    const widthMm = Math.min(free, asked.numbers.room ?? free * share);
    if (!(widthMm > 0)) return { kind: 'none', text: 'Nothing of the window is left for it.' };
    const place = {
      innerMm: inner + from,
      widthMm,
      baseMm: at === 0 && added === null ? base : between,
      clearanceMm: isLast ? clearance : 0,
    };
    const state = outputState(basis, numbers, choices, asked, place, all - (powers[at] ?? 0));
    if (state.kind === 'done') from += state.choice.buildMm;
    return state;
  });
  return { added, outputs: states, leftMm: windowWidth - clearance - from };
}
