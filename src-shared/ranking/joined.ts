import { calculate } from '../calculation/calculate.ts';
import { conductors } from '../calculation/conductor.ts';
import { ways, type Way } from '../joining/way.ts';
import type { CoreFields } from '../record/core.ts';
import { byCircuit } from './circuit.ts';
import type { CoreFacts } from './core-facts.ts';
import { densityFor, type Demand } from './demand.ts';
import { dimensionsOf } from './power.ts';
import { rankFacts } from './rank.ts';
import { judge, standings, type Standing, type Verdict } from './verdict.ts';

/** Two cores that would serve a need together. */
export interface Joined {
  readonly way: Way;
  readonly coreIds: readonly [number, number];
  readonly standing: Standing;
  /** Both together, as far as they are known. */
  readonly kg: number | null;
  /** The tighter of both. */
  readonly tightest: number;
  /** What each has to do, and what has to be right for it, with its numbers. */
  readonly words: readonly string[];
}

/** The part of a need that each of two transformers carries. The circuit feeds both: it is looked at for the whole. */
function halved(demand: Demand, of: 'volts' | 'amps', line: Demand['line'] = demand.line): Demand {
  const { circuit: _whole, ...need } = demand.need;
  const { asked } = demand;
  return {
    ...demand,
    line,
    need: { ...need, [of]: need[of] / 2 },
    asked: {
      ...asked,
      [of]: asked[of] / 2,
      voltAmperes: asked.voltAmperes / 2,
      voltAmperesFrom: asked.voltAmperesFrom / 2,
    },
  };
}

const halfLine = ({ line }: Demand) => ({ ...line, volts: line.volts / 2 });

const worseOf = (one: Standing, other: Standing): Standing =>
  standings.indexOf(one) > standings.indexOf(other) ? one : other;

/** Ohms of the secondary that a core would carry, hot windings not counted; null while its dimensions do not say. */
function ohmsOf({ fields, turns, primaryOhms, heat }: CoreFacts, { asked, line, need }: Demand): number | null {
  const dimensions = dimensionsOf(fields);
  const answer = dimensions === null ? null : calculate('core-rating', dimensions);
  const meanTurn = answer?.ok === true ? answer.results.meanTurnLength?.value : undefined;
  if (meanTurn === undefined || turns === null) return null;
  const wound = (asked.volts * turns.value) / line.volts;
  const area = asked.amps / densityFor(need, heat?.seconds ?? null);
  const own = (conductors.copper.resistivity20 * wound * meanTurn) / 1000 / area;
  return own + (primaryOhms?.value ?? 0) * (wound / turns.value) ** 2;
}

/** What one turn too few in one of two parallel secondaries would do, with no load at all. */
function oneTurnShort(one: CoreFacts, other: CoreFacts, demand: Demand): string | null {
  const ohms = [one, other].map((each) => ohmsOf(each, demand));
  const [first, second] = ohms;
  if (first === null || first === undefined || second === null || second === undefined) return null;
  const perTurn = demand.line.volts / (other.turns?.value ?? NaN);
  const { asked, say } = demand;
  const unit = (openVolts: number, each: number) => ({ openVolts, ohms: each, ratedAmps: asked.amps });
  const answer = calculate('bank', {
    join: 'parallel',
    units: [unit(asked.volts, first), unit(asked.volts - perTurn, second)],
  });
  if (!answer.ok || answer.results.circulatingAmps === undefined) return null;
  const amps = Math.abs(answer.results.circulatingAmps.value);
  return `One turn too few in one of them, ${say(perTurn, 'V', 2)}, would drive about ${say(amps, 'A', 2)} round both with no load at all: measure across the last link before it is closed.`;
}

function wordsOf(way: Way, pair: readonly [CoreFacts, CoreFacts], demand: Demand): readonly string[] {
  const { asked, line, say } = demand;
  const each = `each gives ${say(asked.volts, 'V')} and ${say(asked.amps, 'A')}`;
  if (way === 'parallel') {
    return [`Of the load ${each}.`, ...[oneTurnShort(...pair, demand)].filter((words) => words !== null)];
  }
  const opposed = 'If almost nothing comes out they oppose: exchange the leads of one.';
  if (way === 'series') return [`Of the load ${each}.`, opposed];
  return [`On ${say(line.volts, 'V')} each, ${each}.`, 'Alike cores only: unlike ones do not share the supply evenly.'];
}

/** The best two of the shelf for one way of joining transformers; null where there are not two. */
function bestPair(way: Way, facts: readonly CoreFacts[], demand: Demand): Joined | null {
  const [first, second] = rankFacts(facts, demand);
  const pair = [first, second].map((verdict) => facts.find(({ coreId }) => coreId === verdict?.coreId));
  const [one, other] = pair;
  if (first === undefined || second === undefined || one === undefined || other === undefined) return null;
  return {
    way,
    coreIds: [first.coreId, second.coreId],
    standing: worseOf(first.standing, second.standing),
    kg: first.size === null || second.size === null ? null : first.size.kg + second.size.kg,
    tightest: Math.max(first.tightest, second.tightest),
    words: wordsOf(way, [one, other], demand),
  };
}

/** Lengths of two stacks that go together may differ by so much. Common practice, no source. */
const likeWithin = 0.03;
const stackLengths = ['tongue', 'stack', 'windowWidth', 'windowHeight'] as const;

const isLike = (one: CoreFields, other: CoreFields): boolean =>
  one.shape === other.shape &&
  one.shape !== 'toroid' &&
  stackLengths.every((name) => {
    const [a, b] = [one[name]?.value, other[name]?.value];
    return a !== undefined && b !== undefined && Math.abs(a - b) <= likeWithin * Math.max(a, b);
  });

/** Two like cores face to face: twice the window and the mass, both primaries side by side on the same iron. */
function stacked(one: CoreFacts, other: CoreFacts): CoreFacts {
  const { mass, windowHeight } = one.fields;
  const twice = (known: CoreFields['mass']) =>
    known === undefined ? undefined : { value: 2 * known.value, u: known.u === null ? null : 2 * known.u };
  const fields: CoreFields = { ...one.fields };
  const [kg, height] = [other.fields.mass === undefined ? undefined : twice(mass), twice(windowHeight)];
  delete fields.mass;
  return {
    ...one,
    fields: {
      ...fields,
      ...(kg === undefined ? {} : { mass: kg }),
      ...(height === undefined ? {} : { windowHeight: height }),
    },
    // Measured on one core, with its own iron closed: neither holds for both.
    heat: null,
    noLoadVoltAmperes: null,
    primaryWireMm: one.primaryWireMm === null ? null : one.primaryWireMm * Math.SQRT2,
  };
}

/** A current that is not worth a word, in A. */
const smallestSaid = 0.01;

function stackWords(one: CoreFacts, other: CoreFacts, { line, say }: Demand): readonly string[] {
  const { windowWidth, windowHeight } = one.fields;
  if (one.turns === null || other.turns === null || windowWidth === undefined || windowHeight === undefined) {
    return ['The turns of both primaries must be known and proved equal before they are joined in parallel.'];
  }
  const answer = calculate('double-stack', {
    windowWidthMm: windowWidth,
    windowHeightMm: windowHeight,
    coreVolts: line.volts,
    firstTurns: one.turns,
    secondTurns: other.turns,
    ...(one.primaryOhms === null || other.primaryOhms === null
      ? {}
      : { firstOhms: one.primaryOhms, secondOhms: other.primaryOhms }),
    supply: 'same',
  });
  if (!answer.ok) return [answer.error.message];
  const { primaryJoin, circulatingAmps } = answer.results;
  const amps = Math.abs(circulatingAmps?.value ?? 0);
  const round = amps < smallestSaid ? '' : `, about ${say(amps, 'A', 2)} round them`;
  return primaryJoin === 'parallel'
    ? [`Primaries in parallel: ${say(one.turns.value, '', 4)} turns each, proved equal${round}.`]
    : [
        `Primaries of ${say(one.turns.value, '', 4)} and ${say(other.turns.value, '', 4)} turns are not proved equal${round}: not in parallel.`,
      ];
}

/** Cores that are tried two by two; of a longer shelf those that come nearest alone. */
const mostToStack = 8;

function bestStack(facts: readonly CoreFacts[], demand: Demand): Joined | null {
  const first = rankFacts(facts, demand).slice(0, mostToStack);
  const tried = facts.filter(({ coreId }) => first.some((verdict) => verdict.coreId === coreId));
  const found = tried.flatMap((one, at) =>
    tried.slice(at + 1).flatMap((other) => {
      if (!isLike(one.fields, other.fields)) return [];
      const verdict: Verdict = judge(stacked(one, other), demand);
      const joined: Joined = {
        way: 'double-stack',
        coreIds: [one.coreId, other.coreId],
        standing: verdict.standing,
        kg: verdict.size?.kg ?? null,
        tightest: verdict.tightest,
        words: stackWords(one, other, demand),
      };
      return [joined];
    }),
  );
  return inOrder(found)[0] ?? null;
}

const inOrder = (all: readonly Joined[]): readonly Joined[] =>
  all.toSorted(
    (one, other) =>
      standings.indexOf(one.standing) - standings.indexOf(other.standing) ||
      one.tightest - other.tightest ||
      ways.indexOf(one.way) - ways.indexOf(other.way),
  );

/** How far from doing it, where not even two do. */
const nearest = (joined: Joined): Joined => ({
  ...joined,
  words: [...joined.words, `It takes ${Math.round(100 * joined.tightest)} % of what there is where it is tightest.`],
});

/**
 * Two cores of the shelf for a need that none does alone: the best two of each way that does it, best first; where none
 * does, all of them with how far they are from it. Empty where the circuit itself is too small: no core helps there.
 */
export function joinedFor(facts: readonly CoreFacts[], demand: Demand): readonly Joined[] {
  if (facts.some((each) => byCircuit({ ...each, noLoadVoltAmperes: null }, demand).grade === 'not-met')) return [];
  const found = [
    bestPair('parallel', facts, halved(demand, 'amps')),
    bestPair('series', facts, halved(demand, 'volts')),
    bestPair('double-supply', facts, halved(demand, 'volts', halfLine(demand))),
    bestStack(facts, demand),
  ];
  const all = inOrder(found.filter((joined) => joined !== null));
  const doing = all.filter(({ standing }) => standing !== 'will-not');
  return doing.length > 0 ? doing : all.map(nearest);
}

/** Whether any single core does it, as far as is known. */
export const isServed = (verdicts: readonly Verdict[]): boolean =>
  verdicts.some(({ standing }) => standing === 'will-do' || standing === 'as-far-as-known');
