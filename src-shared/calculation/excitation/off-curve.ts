import { allowanceOf } from '../../quantity/between-knots.ts';
import { monotoneCurve, type MonotoneCurve } from '../../quantity/monotone-curve.ts';
import { normalQuantile } from '../../quantity/normal.ts';
import { gather, knotOf, type Dot } from './knots.ts';

/** A point as it is judged: where it lies, how doubtful, and what it has in common with others that may be wrong together. */
export interface Suspect extends Dot {
  /** Relative standard uncertainties of its current and of its volts, as far as they differ from those of the others. */
  readonly currentDoubt: number;
  readonly voltsDoubt: number;
  /** Points of one key stand or fall together: the same turns, supply or kind of meter. */
  readonly kin: readonly string[];
  /** It was said to be taken behind a series lamp: a cause that is known of. */
  readonly isSoft: boolean;
  /** The primary's own turns carried it: where two counts accuse each other, the other one is doubted. */
  readonly isPrimary: boolean;
}

/** What a point is off by, against the curve of others. */
export interface Miss {
  readonly suspect: Suspect;
  /** Logarithm of its ampere-turns over those of the curve. */
  readonly by: number;
  /** Over 1: more than its doubt and the bend of the curve explain. */
  readonly severity: number;
}

/** Probability of calling points off that are only unlucky, all of a curve together. */
const falseAlarm = 0.003;
/** What of the bend between its neighbours a point may be missed by; all where one of them is the last. */
const partOfBend = 0.5;
/** The least that is worth a word. */
const leastOff = 0.01;
/** Beyond the last point only so many times what the continued curve is allowed. */
const beyondTheEnd = 3;
/** Single points that are tried as the wrong one: those that are missed most; fewer of many, so that no answer is long in coming. */
const mostTried = 8;
const leastTried = 3;
const triedTimesPoints = 400;
/** Never more than so large a part of the points is called wrong. */
const mostOff = 0.5;
/** Points of one kin may be wrong by one cause, which still is less likely than that a single one is wrong. */
const kinCause = 1.5;
const knownCause = 0.5;
/** Points that are taken out one after the other before it is called no curve at all. */
const mostRounds = 12;

/** The curve of some points; null where they make fewer than two knots. */
export function curveThrough(dots: readonly Dot[]): MonotoneCurve | null {
  const byIndex = new Map(dots.map((dot) => [dot.index, dot]));
  const knots = gather(dots).map((members) => knotOf(members, (index) => byIndex.get(index)));
  return knots.length < 2 ? null : monotoneCurve(knots);
}

/** How far the curve of others misses a point; null where two others do not make a curve. */
function missOf(suspect: Suspect, others: readonly Suspect[], looks: number): Miss | null {
  const curve = curveThrough(others);
  if (curve === null) return null;
  const { knots, slopes, intervalOf } = curve;
  const k = intervalOf(suspect.x);
  const [left, right] = [knots[k], knots[k + 1]];
  const by = suspect.y - curve.at(suspect.x);
  const slope = slopes[Math.max(0, Math.min(k, slopes.length - 1))] ?? 1;
  const doubt = Math.hypot(suspect.currentDoubt, slope * suspect.voltsDoubt);
  const near = others.toSorted((a, b) => Math.abs(a.x - suspect.x) - Math.abs(b.x - suspect.x))[0] ?? suspect;
  const nearDoubt = Math.hypot(near.currentDoubt, slope * near.voltsDoubt);
  const chance = Math.hypot(doubt, nearDoubt) * normalQuantile(1 - falseAlarm / 2 / looks);
  if (k < 0 || left === undefined || right === undefined) {
    const bend = beyondTheEnd * allowanceOf(curve).halfWidth(suspect.x);
    const [edge, inner] = k < 0 ? [knots[0], knots[1]] : [knots.at(-1), knots.at(-2)];
    const far = Math.abs(suspect.x - (edge?.x ?? NaN)) / Math.abs((edge?.x ?? NaN) - (inner?.x ?? NaN));
    return { suspect, by, severity: Math.abs(by) / (chance * (1 + far) + bend + leastOff) };
  }
  const straight = left.y + ((right.y - left.y) * (suspect.x - left.x)) / (right.x - left.x);
  const part = k === 0 || k === knots.length - 2 ? 1 : partOfBend;
  const bend = Math.max(part * Math.abs(curve.at(suspect.x) - straight), allowanceOf(curve).halfWidth(suspect.x));
  return { suspect, by, severity: Math.abs(by) / (chance + bend + leastOff) };
}

const missesOf = (points: readonly Suspect[], looks: number): readonly Miss[] =>
  points.flatMap((point) => {
    const miss = missOf(
      point,
      points.filter((other) => other !== point),
      looks,
    );
    return miss === null ? [] : [miss];
  });

/** How badly some points make one curve: 0 where they do. */
const disagreement = (misses: readonly Miss[]) =>
  misses.reduce((sum, { severity }) => sum + (severity > 1 ? severity ** 2 - 1 : 0), 0);

export interface Verdict {
  readonly on: readonly Suspect[];
  /** Points that do not fall on the curve of the others, with what they are off by. */
  readonly off: readonly Miss[];
  /** The rest does make one curve. */
  readonly isSettled: boolean;
  /** Where it does not: what its points scatter by, of their current. */
  readonly scatter: number;
}

/**
 * Which points do not fall on one curve with the others: the fewest whose leaving makes the rest agree, single ones or all
 * that have the same turns, supply or kind of meter.
 */
export function judgeCurve(points: readonly Suspect[]): Verdict {
  const looks = points.length;
  const most = Math.floor(mostOff * points.length);
  let on = points;
  let misses = missesOf(on, looks);
  for (let round = 0; round < mostRounds && disagreement(misses) > 0; round += 1) {
    const trials = leavings(on, misses)
      .filter((leaving) => points.length - on.length + leaving.length <= most)
      .map((leaving) => trialOf(on, leaving, looks));
    const best = trials.toSorted(isBetter)[0];
    if (best === undefined || best.left >= disagreement(misses)) break;
    on = best.rest;
    misses = best.misses;
  }
  const isSettled = disagreement(misses) === 0;
  if (isSettled) on = withThoseThatFit(points, on, looks);
  const scatter = isSettled ? 0 : Math.hypot(...misses.map(({ by }) => by)) / Math.sqrt(misses.length);
  return { on, off: missed(points, on, looks), isSettled, scatter };
}

interface Trial {
  readonly rest: readonly Suspect[];
  readonly misses: readonly Miss[];
  /** Disagreement that is left. */
  readonly left: number;
  /** How many things must have gone wrong for it: less than one where a soft supply is known of. */
  readonly causes: number;
  readonly primary: number;
  readonly middle: number;
}

function trialOf(on: readonly Suspect[], leaving: readonly Suspect[], looks: number): Trial {
  const rest = on.filter((each) => !leaving.includes(each));
  const misses = missesOf(rest, looks);
  const size = leaving.length;
  return {
    rest,
    misses,
    left: disagreement(misses),
    causes: leaving.every(({ isSoft }) => isSoft) ? knownCause : size > 1 ? kinCause : 1,
    primary: leaving.filter(({ isPrimary }) => isPrimary).length,
    middle: leaving.reduce((sum, { x }) => sum + x, 0) / size,
  };
}

/** What settles it comes first, then what takes fewest causes; where nothing settles it, what helps most for a cause. */
function isBetter(a: Trial, b: Trial): number {
  const [settlesA, settlesB] = [a.left === 0, b.left === 0];
  if (settlesA !== settlesB) return settlesA ? -1 : 1;
  if (!settlesA) return a.left * a.causes - b.left * b.causes || a.middle - b.middle;
  return a.causes - b.causes || a.primary - b.primary || a.middle - b.middle;
}

/** Puts points back that were taken out on the way to the real culprit. */
function withThoseThatFit(points: readonly Suspect[], on: readonly Suspect[], looks: number): readonly Suspect[] {
  let kept = on;
  for (const { suspect, severity } of missed(points, on, looks)) {
    if (severity > 1) continue;
    const more = points.filter((each) => each === suspect || kept.includes(each));
    if (disagreement(missesOf(more, looks)) === 0) kept = more;
  }
  return kept;
}

/** What may be left out: each of the points missed most, and each kin. */
function leavings(on: readonly Suspect[], misses: readonly Miss[]): readonly (readonly Suspect[])[] {
  const worst = misses
    .toSorted((a, b) => b.severity - a.severity)
    .slice(0, Math.max(leastTried, Math.min(mostTried, Math.floor(triedTimesPoints / on.length))));
  const kins = Map.groupBy(
    on.flatMap((suspect) => suspect.kin.map((key) => ({ key, suspect }))),
    ({ key }) => key,
  );
  return [
    ...worst.map(({ suspect }) => [suspect]),
    ...[...kins.values()].flatMap((each) =>
      each.length > 1 && each.length < on.length ? [each.map(({ suspect }) => suspect)] : [],
    ),
  ];
}

/** What was left out, held against the curve of what stays. */
const missed = (points: readonly Suspect[], on: readonly Suspect[], looks: number): readonly Miss[] =>
  points.flatMap((point) => {
    if (on.includes(point)) return [];
    const miss = missOf(point, on, looks);
    return miss === null ? [] : [miss];
  });
