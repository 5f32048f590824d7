import { formatNumber } from '../../quantity/format.ts';
import { propagate } from '../../quantity/propagate.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { caution, line, physical, worked, type Caution, type PhysicalResult } from '../answer.ts';
import { defineCalculation } from '../calculation.ts';
import { refusedTogether, windowFitInput, type WindowFitInput } from './input.ts';
import { buildOf, layersOf, meanMiddle, middleOf, mostTurns, turnAlong, widestStrand } from './layers.ts';
import type { Layers, LayRules } from './layers.ts';
import { cornerFactor, turnLength } from './mean-turn.ts';
import { mostPlaced, placedStrands } from './placed.ts';

export interface WindowFitResults {
  readonly layers: number;
  readonly turnsPerLayer: number;
  readonly turnsInLastLayer: number;
  /** From the start of the free room to the outside of the last layer. */
  readonly buildHeight: PhysicalResult;
  /** Part of the free room that strands fill, their insulation included; not the copper factor. */
  readonly fill: PhysicalResult;
  readonly fits: boolean;
  /** Room left; negative where it does not fit. */
  readonly spare: { readonly width: PhysicalResult; readonly height: PhysicalResult };
  /** Of these strands laid like this. */
  readonly mostTurns: number;
  /** Of as many turns of round wire or cable; null for strip, or when no wire does it. */
  readonly widestOverallDiameterMm: number | null;
  /** Over all turns, and along each strand; only with tongue and stack. */
  readonly meanTurn?: PhysicalResult;
  readonly strandLength?: PhysicalResult;
  /** From the limb outwards; at most the first 200. */
  readonly layerByLayer: readonly {
    readonly turns: number;
    readonly middleMm: number;
    readonly turnLengthMm: number | null;
  }[];
  /**
   * Middle of every strand as x, y, x, y ... in mm, in the order of winding: x from the inner edge of the free room outwards,
   * y from its top. Empty when nothing can be laid, or for more than 6000 strands.
   */
  readonly placed: readonly number[];
}

const layersListed = 200;
/** Common practice, no source. */
const fillByHand = 0.6;
const n = (value: number) => formatNumber(value, 6);

/** Every estimate that lays the winding, and what a strand takes along and out. */
function treeOf(given: WindowFitInput) {
  const { windowWidthMm, windowHeightMm, clearanceMm, baseMm, marginMm, interlayerMm, overallDiameterMm } = given;
  const nothing: Estimate = { value: 0, u: 0, shape: 'normal', dof: Infinity };
  return {
    windowWidthMm,
    windowHeightMm,
    clearanceMm,
    baseMm,
    marginMm,
    interlayerMm,
    along: overallDiameterMm ?? given.stripWidthMm ?? nothing,
    out: overallDiameterMm ?? given.stripThicknessMm ?? nothing,
  };
}
type Tree = ReturnType<typeof treeOf>;
type Each = { readonly [Key in keyof Tree]: number };

const rulesOf = (given: WindowFitInput, each: Each): LayRules => ({
  turns: given.turns,
  strandAlong: each.along,
  strandOut: each.out,
  strandsAlong: given.strands / given.strandsDeep,
  strandsDeep: given.strandsDeep,
  spacing: given.spacing,
  interlayer: each.interlayerMm,
  base: each.baseMm,
  freeAlong: each.windowHeightMm - 2 * each.marginMm,
});

const freeOut = (each: Each) => each.windowWidthMm - each.clearanceMm;
const spareWidth = (rules: LayRules, each: Each, layers: number) => freeOut(each) - buildOf(rules, layers);

function lengths(given: WindowFitInput, tree: Tree, layers: Layers) {
  const { tongueMm, stackMm, innerMm } = given;
  if (tongueMm === undefined || stackMm === undefined || layers.layers === 0) return null;
  const limb = { tongueMm, stackMm, innerMm, corner: cornerFactor };
  const mean = propagate({ tree, limb }, (each) =>
    turnLength(each.limb, meanMiddle(rulesOf(given, each.tree), layers)),
  );
  const whole = propagate(
    { tree, limb },
    (each) => (given.turns * turnLength(each.limb, meanMiddle(rulesOf(given, each.tree), layers))) / 1000,
  );
  const nominal = {
    tongueMm: tongueMm.value,
    stackMm: stackMm.value,
    innerMm: innerMm.value,
    corner: cornerFactor.value,
  };
  return { mean, whole, of: (middleMm: number) => turnLength(nominal, middleMm) };
}

function cautionsOf(given: WindowFitInput, found: WindowFitResults): readonly Caution[] {
  const { layers, fits, spare, fill, mostTurns: most, widestOverallDiameterMm: widest } = found;
  const give = [
    `${most} turns of it would fit`,
    ...(widest === null ? [] : [`all turns would fit with at most ${formatNumber(widest, 3)} mm over the insulation`]),
  ].join('; ');
  const wide = spare.width;
  const isDoubtful = wide.interval95 !== null && wide.interval95[0] < 0 && wide.interval95[1] > 0;
  return [
    ...(layers === 0
      ? [caution('no-turn-fits', 'Not even one turn lies between the margins: it is wider than the window is high.')]
      : []),
    ...(fits || layers === 0
      ? []
      : [caution('does-not-fit', `It is ${formatNumber(-wide.value, 3)} mm too high for the free width: ${give}.`)]),
    ...(isDoubtful
      ? [caution('fit-doubtful', 'Whether it fits is within the doubt of the lengths: measure again.')]
      : []),
    ...(fits && fill.value > fillByHand
      ? [
          caution(
            'fill-above-hand',
            'Wire, insulation included, fills more than the 50 to 60 % of the window that hands reach (common practice).',
          ),
        ]
      : []),
    ...(given.strands > 1
      ? [
          caution(
            'strands-in-hand',
            'Strands in hand: equal lengths, side by side or transposed. Before joining the far ends measure between them at low volts: it must read near 0.',
          ),
        ]
      : []),
    ...(given.turns * given.strands > mostPlaced
      ? [caution('not-placed', `More than ${mostPlaced} strands are not placed one by one.`)]
      : []),
    caution(
      'every-window',
      'Each of the two windows of a shell core takes every turn once: do not halve or double them.',
    ),
  ];
}

function workingOf(given: WindowFitInput, nominal: Each, found: WindowFitResults) {
  const rules = rulesOf(given, nominal);
  const pitch = turnAlong(rules);
  const depth = rules.strandsDeep * rules.strandOut;
  return [
    line(
      'p',
      'strand × side by side × spacing',
      `${n(nominal.along)} × ${rules.strandsAlong} × ${n(given.spacing)}`,
      pitch,
      'mm',
    ),
    line(
      'n',
      '⌊(h − 2 m) / p⌋',
      `⌊(${n(nominal.windowHeightMm)} − 2 × ${n(nominal.marginMm)}) / ${n(pitch)}⌋`,
      found.turnsPerLayer,
      '',
    ),
    line('L', '⌈N / n⌉', `⌈${given.turns} / ${found.turnsPerLayer}⌉`, found.layers, ''),
    line(
      'b',
      'base + L t + (L − 1) i',
      `${n(nominal.baseMm)} + ${found.layers} × ${n(depth)} + ${Math.max(0, found.layers - 1)} × ${n(nominal.interlayerMm)}`,
      found.buildHeight.value,
      'mm',
    ),
    line(
      's',
      'w − clearance − b',
      `${n(nominal.windowWidthMm)} − ${n(nominal.clearanceMm)} − ${n(found.buildHeight.value)}`,
      found.spare.width.value,
      'mm',
    ),
  ];
}

function run(given: WindowFitInput) {
  const refused = refusedTogether(given);
  if (refused !== null) return refused;
  const tree = treeOf(given);
  const nominal: Each = {
    windowWidthMm: tree.windowWidthMm.value,
    windowHeightMm: tree.windowHeightMm.value,
    clearanceMm: tree.clearanceMm.value,
    baseMm: tree.baseMm.value,
    marginMm: tree.marginMm.value,
    interlayerMm: tree.interlayerMm.value,
    along: tree.along.value,
    out: tree.out.value,
  };
  const rules = rulesOf(given, nominal);
  const laid = layersOf(rules);
  const isRound = given.overallDiameterMm !== undefined;
  const strand = isRound ? Math.PI / 4 : 1;
  const length = lengths(given, tree, laid);
  const width = propagate(tree, (each) => spareWidth(rulesOf(given, each), each, laid.layers));
  const widest = isRound ? widestStrand(rules, freeOut(nominal)) : 0;
  const results: WindowFitResults = {
    layers: laid.layers,
    turnsPerLayer: laid.turnsPerLayer,
    turnsInLastLayer: laid.turnsInLast,
    buildHeight: physical(
      'mm',
      propagate(tree, (each) => buildOf(rulesOf(given, each), laid.layers)),
    ),
    fill: physical(
      '',
      propagate(
        tree,
        (each) =>
          (given.turns * given.strands * strand * each.along * each.out) / (each.windowWidthMm * each.windowHeightMm),
      ),
    ),
    fits: laid.layers > 0 && width.value >= -1e-9 * nominal.windowWidthMm,
    spare: {
      width: physical('mm', width),
      height: physical(
        'mm',
        propagate(tree, (each) => {
          const moved = rulesOf(given, each);
          return moved.freeAlong - Math.min(given.turns, laid.turnsPerLayer) * turnAlong(moved);
        }),
      ),
    },
    mostTurns: mostTurns(rules, freeOut(nominal)),
    widestOverallDiameterMm: widest > 0 ? widest : null,
    ...(length === null ? {} : { meanTurn: physical('mm', length.mean), strandLength: physical('m', length.whole) }),
    layerByLayer: Array.from({ length: Math.min(laid.layers, layersListed) }, (_, layer) => {
      const middleMm = middleOf(rules, layer);
      return {
        turns: layer === laid.layers - 1 ? laid.turnsInLast : laid.turnsPerLayer,
        middleMm,
        turnLengthMm: length === null ? null : length.of(middleMm),
      };
    }),
    placed: given.turns * given.strands > mostPlaced ? [] : placedStrands(rules, laid, nominal.marginMm),
  };
  return worked(results, workingOf(given, nominal, results), cautionsOf(given, results));
}

export const windowFit = defineCalculation({
  name: 'window-fit',
  title: 'Whether a winding fits the window, layer by layer',
  version: 1,
  sources: [
    'Geometry of full layers in rows',
    'Fill by hand, and turns between round and square at the corners of the limb: common practice, no source',
  ],
  input: windowFitInput,
  example: {
    windowWidthMm: { value: 22, u: 0.2, shape: 'rectangular' },
    windowHeightMm: 46,
    clearanceMm: 1,
    baseMm: 1,
    marginMm: 2,
    interlayerMm: 0.1,
    spacing: 1.05,
    turns: 26,
    overallDiameterMm: 2.618,
    strands: 2,
    tongueMm: 38,
    stackMm: 52,
  },
  run,
});
