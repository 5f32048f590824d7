import { formatNumber } from '../quantity/format.ts';
import { bankOf, closingPart, stackOf } from './figures.ts';
import type { JoinStep } from './step.ts';
import type { JoinUnit, Joint } from './unit.ts';
import type { Way } from './way.ts';

const n = (value: number) => formatNumber(value, 4);

/** Readings at low volts, of cheap meters, may be off by so much. Common practice, no source. */
const meterPart = 0.03;
/** Alike cores share a supply to within this. Common practice, no source. */
const sharePart = 0.1;
/** Of its rated current, what may flow in a winding before anybody has to worry. Common practice, no source. */
const idlePart = 0.05;

const sumOf = (values: readonly (number | null)[]): number | null =>
  values.reduce<number | null>((sum, value) => (sum === null || value === null ? null : sum + value), 0);
const voltsOf = ({ openVolts }: JoinUnit): number | null => openVolts?.value ?? null;
const scaled = (value: number | null, by: number): number | null => (value === null ? null : value * by);
const margin = (expected: number | null, part: number): number => Math.abs(expected ?? 0) * part;

const differs = 'Not what was expected. Find out why before anything is joined.';

/** Each secondary alone, from the low source: what its turns make of it. */
const alone = ({ units, testVolts }: Joint, part: number, primaries: string): readonly JoinStep[] =>
  units.map((unit, at): JoinStep => {
    const expected = scaled(voltsOf(unit), part);
    return {
      id: `alone-${at}`,
      act: `${n(testVolts)} V from the low source on ${primaries}, every secondary open. Read the secondary of ${unit.name}.`,
      unit: 'V',
      expected,
      within: margin(expected, meterPart),
      wrong: [],
      otherwise: differs,
    };
  });

function parallel(joint: Joint): readonly JoinStep[] {
  const { units, supplyVolts, testVolts, loadAmps } = joint;
  const [first, ...others] = units;
  if (first === undefined) return [];
  const part = testVolts / supplyVolts;
  const answer = bankOf('parallel', joint);
  const bank = answer?.ok === true ? answer.results : null;
  const across = (other: JoinUnit, by: number) => {
    const [one, two] = [voltsOf(first), voltsOf(other)];
    if (one === null || two === null) return { expected: null, within: 0, wrong: [] };
    return {
      expected: Math.abs(one - two) * by,
      within: closingPart * Math.min(one, two) * by,
      wrong: [{ value: (one + two) * by, words: `They oppose: exchange the leads of ${other.name}, and read again.` }],
    };
  };
  const notAlike = 'Too much: the turns differ. Do not join them.';
  const rated = Math.min(...units.map(({ ratedAmps }) => ratedAmps ?? Infinity));
  return [
    ...alone(joint, part, 'all primaries side by side'),
    ...others.map((other, at): JoinStep => ({
      id: `ends-${at}`,
      act: `Join the near end of ${other.name} to that of ${first.name}. Read across their far ends.`,
      unit: 'V',
      ...across(other, part),
      otherwise: notAlike,
    })),
    ...others.map((other, at): JoinStep => ({
      id: `link-${at}`,
      act: `All primaries on ${n(supplyVolts)} V through a series lamp, the far end of ${other.name} still open. Read across that last link.`,
      unit: 'V',
      ...across(other, 1),
      otherwise: notAlike,
    })),
    {
      id: 'idle',
      act: 'Power off and proved dead, then the last link closed; on again through the lamp, no load. Clamp one secondary lead.',
      unit: 'A',
      expected: bank?.circulatingAmps === undefined ? null : Math.abs(bank.circulatingAmps.value),
      within: Number.isFinite(rated) ? idlePart * rated : 0,
      wrong: [],
      otherwise: 'More than the volts explain: power off. A turn differs, or a lead is wrong.',
    },
    ...units.map((unit, at): JoinStep => {
      const amps = loadAmps === null ? null : (bank?.sharing[at]?.amps.value ?? null);
      return {
        id: `share-${at}`,
        act: `Loaded${loadAmps === null ? '' : ` with ${n(loadAmps)} A`}: clamp the secondary lead of ${unit.name}.`,
        unit: 'A',
        expected: amps,
        within: margin(amps, sharePart),
        wrong: [],
        otherwise: 'They share otherwise: another resistance, or a bad joint. No unit over its rated amps.',
      };
    }),
  ];
}

/** Secondaries in series, fed at `by` of the full volts: the sum, and who opposes when it is not. */
function sum(joint: Joint, id: string, act: string, by: number): JoinStep {
  const { units } = joint;
  const total = sumOf(units.map(voltsOf));
  const expected = scaled(total, by);
  return {
    id,
    act,
    unit: 'V',
    expected,
    within: margin(expected, meterPart),
    wrong:
      total === null
        ? []
        : units.slice(1).map((unit) => ({
            value: Math.abs(total - 2 * (voltsOf(unit) ?? 0)) * by,
            words: `${unit.name} opposes: exchange its leads, and read again.`,
          })),
    otherwise: 'Neither the sum nor a difference: exchange the leads of one, and read again.',
  };
}

function loadedInSeries({ loadAmps }: Joint): JoinStep {
  return {
    id: 'load',
    act: `Loaded${loadAmps === null ? '' : ` with ${n(loadAmps)} A`}: clamp any lead, the same amps flow through all.`,
    unit: 'A',
    expected: loadAmps,
    within: margin(loadAmps, sharePart),
    wrong: [],
    otherwise: 'Stay under the smallest rated current of all.',
  };
}

const outerEnds = 'Join the end of each secondary to the beginning of the next. Read across the outer ends.';

function series(joint: Joint): readonly JoinStep[] {
  const { supplyVolts, testVolts } = joint;
  const part = testVolts / supplyVolts;
  const lamp = `All primaries on ${n(supplyVolts)} V through a series lamp, no load. Read across the outer ends.`;
  return [
    ...alone(joint, part, 'all primaries side by side'),
    sum(joint, 'sum', outerEnds, part),
    sum(joint, 'lamp', lamp, 1),
    loadedInSeries(joint),
  ];
}

/** Primaries in series: what each of them takes of the supply. */
function halves({ units }: Joint, id: string, volts: number, act: string): readonly JoinStep[] {
  const expected = volts / units.length;
  return units.map((unit, at): JoinStep => ({
    id: `${id}-${at}`,
    act: `${act} Read across the primary of ${unit.name}.`,
    unit: 'V',
    expected,
    within: sharePart * expected,
    wrong: [{ value: volts, words: 'It takes all of it: the other primary, or a winding on its core, is shorted.' }],
    otherwise: 'They do not share evenly: unlike turns or unlike iron. Not for this use.',
  }));
}

function doubleSupply(joint: Joint): readonly JoinStep[] {
  const { supplyVolts, testVolts } = joint;
  return [
    ...halves(
      joint,
      'low',
      testVolts,
      `Primaries in series, ${n(testVolts)} V from the low source across all of them.`,
    ),
    // Each unit's open volts are those on its own share of the supply.
    sum(joint, 'sum', outerEnds, testVolts / supplyVolts),
    ...halves(joint, 'lamp', supplyVolts, `Primaries in series on ${n(supplyVolts)} V through a series lamp, no load.`),
    loadedInSeries(joint),
    ...halves(joint, 'loaded', supplyVolts, 'Under that load.'),
  ];
}

function doubleStack(joint: Joint): readonly JoinStep[] {
  const { units, supplyVolts, testVolts, stackSupply } = joint;
  const [first, second] = units;
  if (first === undefined || second === undefined) return [];
  const [one, two] = [first.primaryTurns?.value, second.primaryTurns?.value];
  const ratio = one === undefined || two === undefined ? null : two / one;
  const perTurn = one === undefined ? {} : { perTurn: testVolts / one };
  const other = scaled(ratio, testVolts);
  const answer = stackOf(joint);
  const round = answer?.ok === true ? answer.results.circulatingAmps : null;
  const ratioStep: JoinStep = {
    id: 'ratio',
    act: `E to E, clamped tight. ${n(testVolts)} V from the low source on the primary of ${first.name}, all else open. Read the primary of ${second.name}.`,
    unit: 'V',
    expected: other,
    within: margin(other, meterPart),
    wrong: [],
    otherwise: 'The two primaries are not on the same flux: look how the stacks lie, and count again.',
    ...perTurn,
  };
  if (stackSupply === 'double') {
    const total = ratio === null ? null : testVolts * (1 + ratio);
    const sumStep: JoinStep = {
      id: 'sum',
      act: 'Join the end of the first primary to the beginning of the second. Feed the first again. Read across both.',
      unit: 'V',
      expected: total,
      within: margin(total, meterPart),
      wrong:
        ratio === null
          ? []
          : [
              {
                value: testVolts * Math.abs(1 - ratio),
                words: 'They oppose: exchange the leads of the second, and read again.',
              },
            ],
      otherwise: 'They oppose, or the turns differ: exchange the leads of the second, and read again.',
    };
    const lamp = `Both in series on ${n(supplyVolts)} V through a series lamp: dim and steady.`;
    return [ratioStep, sumStep, ...halves(joint, 'lamp', supplyVolts, lamp)];
  }
  const gap = ratio === null ? null : testVolts * Math.abs(1 - ratio);
  return [
    ratioStep,
    {
      id: 'ends',
      act: 'Join the near ends of both primaries. Feed the first again. Read across their far ends.',
      unit: 'V',
      expected: gap,
      within: one === undefined ? 0 : testVolts / one / 2,
      wrong:
        ratio === null
          ? []
          : [
              {
                value: testVolts * (1 + ratio),
                words: 'They oppose: exchange the leads of the second, and read again.',
              },
            ],
      otherwise: 'Not near 0: the turns differ. Do not join them in parallel.',
      ...perTurn,
    },
    {
      id: 'idle',
      act: `Power off and proved dead, then the far ends joined; on ${n(supplyVolts)} V through a series lamp, no load: dim and steady. Clamp between the two primaries.`,
      unit: 'A',
      expected: round === null ? null : Math.abs(round.value),
      within: round === null ? 0 : Math.max(0.1, Math.abs(round.value) * sharePart),
      wrong: [],
      otherwise: 'More than the counts explain: power off. A turn differs.',
    },
  ];
}

/** The tests that leave the last link open: of a joint that must not be, all that is left to do. */
export function beforeClosing(steps: readonly JoinStep[]): readonly JoinStep[] {
  const closing = steps.findIndex(({ id }) => id === 'idle');
  return closing < 0 ? steps : steps.slice(0, closing);
}

/** The tests before, at and after joining, in order, each with the reading to expect. */
export function joinSteps(way: Way, joint: Joint): readonly JoinStep[] {
  switch (way) {
    case 'parallel':
      return parallel(joint);
    case 'series':
      return series(joint);
    case 'double-supply':
      return doubleSupply(joint);
    case 'double-stack':
      return doubleStack(joint);
  }
}
