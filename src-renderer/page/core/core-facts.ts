import * as v from 'valibot';
import { calculate } from '../../../src-shared/calculation/calculate.ts';
import { comparedQuantities } from '../../../src-shared/comparison/quantity.ts';
import { noLoadNear } from '../../../src-shared/comparison/no-load-near.ts';
import { chosenResults, doubtOf, keptAs, sideOf, voltsOf } from '../../../src-shared/comparison/side.ts';
import { formatNumber, type Written } from '../../../src-shared/quantity/format.ts';
import { inSystem, type UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { turnsKnown, type Build, type Winding } from '../../../src-shared/record/build.ts';
import type { CoreFields } from '../../../src-shared/record/core.ts';
import type { Measured } from '../../../src-shared/record/field.ts';
import type { Result } from '../../../src-shared/record/run.ts';
import type { Settings } from '../../../src-shared/record/settings.ts';
import { shortDate } from '../../part/time-words.ts';
import { shortTermPower } from '../shelf/short-term-power.ts';
import { primaryOf } from '../../../src-shared/record/primary.ts';

/** One row of the table: a figure with its doubt, or null for not known; and where it came from, or why it is missing. */
export interface Fact {
  readonly name: string;
  readonly figure: Written | null;
  /** Put before the figure: an estimate by rule. */
  readonly about?: true;
  readonly from: string;
  /** The run that it was measured in. */
  readonly runId?: number;
}

/** What the table of a core is made from. */
export interface CoreOnTable {
  readonly fields: CoreFields;
  readonly build: Build | undefined;
  readonly results: readonly Result[];
  readonly settings: Pick<Settings, 'mainsVolts' | 'mainsHertz' | 'units'>;
}

const runOf = (result: Result | undefined) => {
  const runId = result?.runId ?? null;
  return runId === null ? {} : { runId };
};

function turnsFact(primary: Winding | undefined, results: readonly Result[]): Fact {
  const name = 'Primary turns';
  const turns = primary?.fields.turns;
  const known = turns === undefined ? null : turnsKnown(turns);
  if (turns === undefined || known === null) {
    return { name, figure: null, from: primary === undefined ? 'no primary described' : 'no test coil yet' };
  }
  const figure = { ...known, unit: '' };
  if (turns.kind !== 'estimated') return { name, figure, from: 'counted by hand' };
  const result = results.find(({ resultId }) => resultId === turns.resultId);
  return {
    name,
    figure,
    from: result === undefined ? 'estimated' : `test coil, ${shortDate(result.wallMs)}`,
    ...runOf(result),
  };
}

function lengthFact(name: string, known: Measured | undefined, unit: string, system: UnitSystem, from: string): Fact {
  return {
    name,
    figure: known === undefined ? null : inSystem({ ...known, unit }, system),
    from: known === undefined ? 'not measured' : from,
  };
}

function fluxFacts({ fields, build, settings }: CoreOnTable): readonly Fact[] {
  const { mainsVolts: volts, mainsHertz: hertz } = settings;
  const [fluxName, perTurnName] = [`Flux at ${volts} V, ${hertz} Hz`, `Volts a turn at ${volts} V`];
  const primary = primaryOf(build);
  const turns = primary === undefined ? null : turnsKnown(primary.fields.turns);
  const none = (why: string): readonly Fact[] => [
    { name: fluxName, figure: null, from: why },
    { name: perTurnName, figure: null, from: why },
  ];
  if (turns === null) return none('needs the primary turns');
  if (fields.tongue === undefined || fields.stack === undefined) return none('needs tongue and stack');
  const answer = calculate('flux-density', {
    volts,
    hertz,
    turns,
    tongueMm: fields.tongue,
    stackMm: fields.stack,
    ...(fields.stackingFactor === undefined ? {} : { stackingFactor: fields.stackingFactor }),
  });
  if (!answer.ok) return none(answer.error.message);
  const { peakFluxDensity, voltsPerTurn } = answer.results;
  const high = answer.cautions.find(({ code }) => code.startsWith('above-'));
  const word =
    high === undefined
      ? 'peak, at most'
      : {
          'above-long-run': 'runs hot in long runs',
          'above-ceiling': 'saturates',
          'above-saturation': 'beyond saturation: check turns and iron',
        }[high.code];
  return [
    { name: fluxName, figure: peakFluxDensity, from: word ?? 'peak, at most' },
    { name: perTurnName, figure: { ...voltsPerTurn, unit: 'V' }, from: 'from the turns' },
  ];
}

function ironFact({ fields, settings }: CoreOnTable): Fact {
  const name = 'Net iron area';
  if (fields.tongue === undefined || fields.stack === undefined) {
    return { name, figure: null, from: 'needs tongue and stack' };
  }
  const answer = calculate('core-rating', {
    tongueMm: fields.tongue,
    stackMm: fields.stack,
    ...(fields.stackingFactor === undefined ? {} : { stackingFactor: fields.stackingFactor }),
    kind: 'other',
  });
  const area = answer.ok ? answer.results.ironArea : undefined;
  if (area === undefined) return { name, figure: null, from: 'not computed' };
  const from = fields.stackingFactor === undefined ? 'tongue × stack × 0.95' : 'tongue × stack × factor';
  return { name, figure: inSystem(area, settings.units), from };
}

/** What is measured of every build, by the name that comparisons have for it, and what it needs. */
const measuredNames = [
  ['No-load current', 'no no-load point yet'],
  ['Core loss', 'needs a no-load point with watts'],
  ['Knee', 'no no-load curve yet'],
  ['Final rise, no load', 'no heat run yet'],
  ['Volts without load', 'no loaded run yet'],
  ['Output resistance', 'no loaded run yet'],
] as const;

/** Figures that were measured on the build itself, each with the run that it comes from. */
function measuredFacts({ build, results, settings }: CoreOnTable): readonly Fact[] {
  if (build === undefined) return [];
  const hasOutput = build.windings.some(({ fields }) => fields.role === 'secondary');
  const record = { build, results, runs: [], sessions: [], meterKinds: new Map(), meterNames: new Map() };
  const [newest] = chosenResults(record, record);
  const ofBuild = results.filter(({ buildId }) => buildId === build.buildId);
  const near = noLoadNear(ofBuild, settings.mainsVolts);
  const kept = near === undefined ? newest : new Map([...newest, ['no-load', near]]);
  const isSwept = kept.has('excitation');
  const items = sideOf(record, '', kept).results;
  return measuredNames.flatMap(([name, missing]): readonly Fact[] => {
    const item = items.find(({ quantity }) => quantity === name);
    if (item === undefined) {
      const isOfOutput = missing === 'no loaded run yet';
      const from = name === 'Knee' && isSwept ? 'not within the points of its curve' : missing;
      return isOfOutput && !hasOutput ? [] : [{ name, figure: null, from }];
    }
    const asked = comparedQuantities.find((one) => one.name === name);
    const result = asked === undefined ? undefined : kept.get(keptAs(asked));
    const volts = result === undefined ? null : voltsOf(result);
    const value = typeof item.value === 'number' ? item.value : item.value.value;
    return [
      {
        name,
        figure: inSystem({ value, u: doubtOf(item), unit: item.unit ?? '' }, settings.units),
        from: `${volts === null ? '' : `at ${formatNumber(volts, 4)} V, `}${result === undefined ? '' : shortDate(result.wallMs)}`,
        ...runOf(result),
      },
    ];
  });
}

const Ohms = v.looseObject({ results: v.looseObject({ ohms: v.looseObject({ value: v.number() }) }) });

/** The result that the resistance of a winding was taken from; undefined where it was typed. */
const ohmsResult = (winding: Winding | undefined, results: readonly Result[]): Result | undefined =>
  results.findLast(({ output }) => {
    const read = v.safeParse(Ohms, output);
    return read.success && read.output.results.ohms.value === winding?.fields.ohms?.value;
  });

/** The rows of the table, in the order of the job; what nobody knows is there too, and says so. */
export function coreFacts(table: CoreOnTable): readonly Fact[] {
  const { fields, build, results, settings } = table;
  const primary = primaryOf(build);
  const power = shortTermPower(fields);
  const ohmsAt = primary?.fields.ohmsCelsius;
  const at = ohmsAt === undefined ? null : inSystem({ value: ohmsAt, u: null, unit: '°C' }, settings.units);
  return [
    turnsFact(primary, results),
    ...fluxFacts(table),
    {
      ...lengthFact(
        'Primary resistance',
        primary?.fields.ohms,
        'Ω',
        settings.units,
        at === null ? 'measured' : `at ${Math.round(at.value)} ${at.unit}`,
      ),
      ...runOf(ohmsResult(primary, results)),
    },
    ...measuredFacts(table),
    ironFact(table),
    lengthFact('Mass', fields.mass, 'kg', settings.units, fields.massIs === 'stripped' ? 'stripped' : 'as pulled'),
    power.kind === 'known'
      ? {
          name: 'Short-term power',
          figure: { value: Number(power.watts), u: null, unit: 'W' },
          about: true,
          from: power.basis,
        }
      : { name: 'Short-term power', figure: null, from: power.why },
  ];
}
