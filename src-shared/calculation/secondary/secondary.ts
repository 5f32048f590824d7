import { propagate } from '../../quantity/propagate.ts';
import { physical, refuse, worked, type PhysicalResult, type Refusal } from '../answer.ts';
import { defineCalculation } from '../calculation.ts';
import { conductors } from '../conductor.ts';
import { iecFilmSource } from '../film-iec.ts';
import { nemaFilmSource } from '../film-nema.ts';
import { iecCableSource, usCableSource } from './cable.ts';
import { bunches, candidateOf, densityOf, fillOf, idealTurns, settingOf } from './candidate.ts';
import type { Bunch, Candidate, Setting } from './candidate.ts';
import { cautionsOf } from './cautions.ts';
import { choiceOf, type SecondaryChoice } from './choice.ts';
import { fluxOf } from './flux.ts';
import { secondaryInput, type SecondaryInput } from './input.ts';
import { rank } from './rank.ts';
import { standardWires, stripSource } from './standard-wires.ts';
import { optionOf } from './stock.ts';
import { refusedTogether } from './together.ts';
import { whyNone, type Why } from './why.ts';
import type { WireOption } from './wire-option.ts';
import { workingOf } from './working.ts';

export interface SecondaryResults {
  /** Of the first choice; without one, the nearest whole number before any drop. */
  readonly turns: number;
  /** For the target with no drop at all, not rounded. */
  readonly turnsWithoutDrop: PhysicalResult;
  readonly voltsPerTurn: PhysicalResult;
  /** What this load draws through the primary, magnetising current not counted; and its density in the primary's wire. */
  readonly primaryAmps: PhysicalResult;
  readonly primaryDensity: PhysicalResult | null;
  /** At the nominal line; null without hertz or iron. */
  readonly peakFluxDensity: PhysicalResult | null;
  /** Best first. */
  readonly choices: readonly SecondaryChoice[];
  /** Ways to wind it that were looked at, and how many of those fit. */
  readonly considered: number;
  readonly fitting: number;
  /** What would have to give; null when something fits. */
  readonly why: Why | null;
}

/** The stock as given, or every standard size. */
function optionsOf({
  wires,
  standard,
  kinds,
}: SecondaryInput): { readonly ok: true; readonly options: readonly WireOption[] } | Refusal {
  const isWanted = ({ kind }: WireOption) => kinds === undefined || kinds.includes(kind);
  if (wires === undefined) return { ok: true, options: standardWires[standard].filter(isWanted) };
  const options: WireOption[] = [];
  for (const [index, wire] of wires.entries()) {
    const found = optionOf(wire, `wires.${index}`);
    if (!found.ok) return found;
    if (isWanted(found.option)) options.push(found.option);
  }
  return options.length > 0
    ? { ok: true, options }
    : refuse('conflict', 'No wire of the stock is of these kinds.', 'kinds');
}

/** Everything that can be done; what the current or the room rules out at once is not worked through. */
function possible(setting: Setting, options: readonly WireOption[], ways: readonly Bunch[]): readonly Candidate[] {
  const fewest = Math.max(1, Math.floor(idealTurns(setting)));
  const found: Candidate[] = [];
  for (const option of options) {
    for (const bunch of ways) {
      if (densityOf(setting, option, bunch) > setting.mostDensity) continue;
      if (fillOf(setting, option, bunch, fewest) > setting.mostFill) continue;
      const candidate = candidateOf(setting, option, bunch);
      if (candidate === null || candidate.fill > setting.mostFill) continue;
      if (candidate.build > setting.freeOut * (1 + 1e-9)) continue;
      found.push(candidate);
    }
  }
  return found;
}

function run(given: SecondaryInput) {
  const refused = refusedTogether(given);
  if (refused !== null) return refused;
  const flux = fluxOf(given);
  if (!flux.ok) return flux;
  const stock = optionsOf(given);
  if (!stock.ok) return stock;
  const setting = settingOf(given);
  const ways = bunches(given.mostStrands);
  const ranked = rank(possible(setting, stock.options, ways), setting.target);
  const listed = ranked.slice(0, given.mostChoices);
  const choices = listed.map((each) => choiceOf(setting, each, given.linePercent / 100));
  const { primaryTurns, primaryVolts, loadVolts, loadAmps, primaryBareDiameterMm } = given;
  const turns = listed[0]?.candidate.turns ?? Math.max(1, Math.round(idealTurns(setting)));
  const tree = { primaryTurns, primaryVolts, loadVolts, loadAmps };
  const primaryDensity =
    primaryBareDiameterMm === undefined
      ? null
      : propagate(
          { ...tree, primaryBareDiameterMm },
          (each) => ((each.loadAmps * turns) / each.primaryTurns / Math.PI / each.primaryBareDiameterMm ** 2) * 4,
        );
  const results: SecondaryResults = {
    turns,
    turnsWithoutDrop: physical(
      'turns',
      propagate(tree, (each) => (each.loadVolts * each.primaryTurns) / each.primaryVolts),
    ),
    voltsPerTurn: physical(
      'V/turn',
      propagate(tree, (each) => each.primaryVolts / each.primaryTurns),
    ),
    primaryAmps: physical(
      'A',
      propagate(tree, (each) => (each.loadAmps * turns) / each.primaryTurns),
    ),
    primaryDensity: primaryDensity === null ? null : physical('A/mm²', primaryDensity),
    peakFluxDensity: flux.peak,
    choices,
    considered: stock.options.length * given.mostStrands,
    fitting: ranked.length,
    why: ranked.length === 0 ? whyNone(setting, stock.options, ways) : null,
  };
  const usesUnconfirmed = listed.some(({ candidate }) => !candidate.option.isConfirmed);
  return worked(results, workingOf(given, results), cautionsOf(given, { ...results, usesUnconfirmed }));
}

export const secondary = defineCalculation({
  name: 'secondary',
  title: 'A secondary: turns, and the wires that do it',
  version: 1,
  sources: [
    'Volts under load: phasor diagram of the series impedance, any textbook of electrical machines',
    'P. L. Dowell, Effects of eddy currents in transformer windings, Proc. IEE 113 (1966)',
    conductors.copper.source,
    iecFilmSource,
    nemaFilmSource,
    iecCableSource,
    usCableSource,
    stripSource,
    'Current density, fill by hand, order of the choices: common practice, no source',
  ],
  input: secondaryInput,
  example: {
    primaryTurns: { value: 236, u: 0.4 },
    primaryVolts: 230,
    hertz: 50,
    primaryOhms: { value: 1.1, u: 0.02 },
    primaryMetal: 'copper',
    leakageOhms: { value: 2, u: 0.3 },
    loadVolts: 24,
    loadAmps: 20,
    powerFactor: 0.95,
    windowWidthMm: 22,
    windowHeightMm: 46,
    clearanceMm: 1,
    baseMm: 1,
    marginMm: 2,
    interlayerMm: 0.1,
    spacing: 1.05,
    tongueMm: 45,
    stackMm: 70,
    wires: [
      { diameterMm: 2.5, film: 'iec-grade-2' },
      { awg: 14, film: 'nema-heavy' },
      { kind: 'cable', areaMm2: 10, overallDiameterMm: 6.8 },
      { kind: 'strip', stripWidthMm: 8, stripThicknessMm: 2, insulationMm: 0.17 },
    ],
  },
  run,
});
