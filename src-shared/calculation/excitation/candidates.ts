import { formatNumber } from '../../quantity/format.ts';
import { rootBetween } from '../../quantity/root.ts';
import { caution, type Caution } from '../answer.ts';
import { placeWords } from '../place-words.ts';
import type { Bench } from './bench.ts';
import type { ExcitationInput, ExcitationPoint } from './input.ts';
import { curveThrough, type Miss, type Suspect, type Verdict } from './off-curve.ts';

const n = (value: number) => formatNumber(value, 3);
/** The points by what the person calls them, else by their place, to begin a sentence with. */
function named({ points }: ExcitationInput, indices: readonly number[]): string {
  const labels = indices.flatMap((index) => points[index]?.label ?? []);
  if (labels.length === indices.length) return labels.join(', ');
  return placeWords('point', indices).replace(/^t/, 'T');
}

/** No count is further wrong than by half or double. */
const farthestCount = Math.log(2);
/** Turns with which a point would fall on the curve of the others; null where no count would do. */
function turnsThatFit({ suspect }: Miss, stated: number, on: readonly Suspect[]): number | null {
  const curve = curveThrough(on);
  if (curve === null) return null;
  const off = (log: number) => suspect.y + log - curve.at(suspect.x - log);
  const log = rootBetween(off, -farthestCount, farthestCount);
  return log === null ? null : stated * Math.exp(log);
}

function turnCount(given: ExcitationInput, off: readonly Miss[], on: readonly Suspect[]): Caution {
  const primary = given.primaryTurns.value;
  const statedBy = (miss: Miss) => given.points[miss.suspect.index]?.turns?.value ?? primary;
  const words = [...Map.groupBy(off, statedBy)].map(([stated, misses]) => {
    const fits = misses.flatMap((miss) => {
      const fit = turnsThatFit(miss, stated, on);
      return fit === null ? [] : [fit];
    });
    const who = named(
      given,
      misses.map(({ suspect }) => suspect.index),
    );
    if (fits.length < misses.length) return `${who}: no count between half and double of ${n(stated)} turns would fit.`;
    const fit = fits.reduce((sum, each) => sum + each, 0) / fits.length;
    const opposing = 2 * primary - stated;
    const isOpposing = stated > primary && Math.abs(fit - opposing) < Math.abs(fit - stated) / 4;
    return (
      `${who} would fit with about ${Math.round(fit)} turns in circuit instead of ${n(stated)}.` +
      (isOpposing ? ` That is as if the ${n(stated - primary)} added turns were wound the wrong way round.` : '')
    );
  });
  return caution('candidate-turn-count', `A turn count: ${words.join(' ')} Count again.`);
}

const mu0 = 4e-7 * Math.PI;

/** Ampere-turns beyond the curve, as an air gap at the same flux: g = μ0 √2 ΔF / B (Ampère's law). */
function gapWords(bench: Bench, off: readonly Miss[]): string {
  const { hertz, ironAreaMm2 } = bench;
  if (hertz === undefined || ironAreaMm2 === undefined || !off.every(({ by }) => by > 0)) return '';
  const gaps = off.map(({ suspect, by }) => {
    const tesla = (1e6 * Math.exp(suspect.x)) / (Math.SQRT2 * Math.PI * hertz.value * ironAreaMm2.value);
    return (1e3 * mu0 * Math.SQRT2 * (Math.exp(suspect.y) - Math.exp(suspect.y - by))) / tesla;
  });
  return ` A gap of about ${n(gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length)} mm would take as much more.`;
}

/** Everybody said the same. */
const agreed = (points: readonly ExcitationPoint[], of: (point: ExcitationPoint) => string | undefined) => {
  const said = new Set(points.map(of));
  return said.size === 1 && !said.has(undefined);
};

/** What the points off the curve have in common that the others have not. */
function apartBy(
  given: ExcitationInput,
  { on, off }: Verdict,
  of: (point: ExcitationPoint) => string | undefined,
): string {
  const words = (suspects: readonly Suspect[]) =>
    new Set(
      suspects.flatMap(({ index }) => {
        const point = given.points[index];
        const word = point === undefined ? undefined : of(point);
        return word === undefined ? [] : [word];
      }),
    );
  const [offWords, onWords] = [words(off.map(({ suspect }) => suspect)), words(on)];
  const only = [...offWords].filter((word) => !onWords.has(word));
  return only.length > 0 && only.length === offWords.size ? ` Only these were taken so: ${only.join(', ')}.` : '';
}

/** What may be behind points that do not fall on the curve of the others; what was said of them rules candidates out. */
export function candidateCautions(given: ExcitationInput, bench: Bench, verdict: Verdict): readonly Caution[] {
  const { on, off, isSettled } = verdict;
  if (off.length === 0 && isSettled) return [];
  const indices = off.map(({ suspect }) => suspect.index).sort((a, b) => a - b);
  const points = [...on.map(({ index }) => index), ...indices].flatMap((index) => given.points[index] ?? []);
  const by = off.map((miss) => `${n(100 * (Math.exp(miss.by) - 1))} %`).join(', ');
  const unsettled = caution(
    'no-one-curve',
    'These points do not make one curve, whichever few are left out: do not rely on what is predicted from them. What they scatter by is in the uncertainty.',
  );
  if (off.length === 0) return [unsettled];
  const oneState = agreed(points, ({ coreState }) => coreState);
  const oneMeter = agreed(points, ({ meterKind }) => meterKind);
  const stiff = points.every(({ supplyKind }) => supplyKind === 'mains' || supplyKind === 'variable-transformer');
  return [
    ...(isSettled ? [] : [unsettled]),
    caution(
      'off-curve',
      `${named(given, indices)} ${indices.length > 1 ? 'lie' : 'lies'} off the curve of the others, by ${by} of the current, and ${indices.length > 1 ? 'were' : 'was'} left out. What may be behind it follows.`,
    ),
    turnCount(given, off, on),
    ...(oneState
      ? []
      : [
          caution('candidate-joint', `A joint that was opened or re-made between the points.${gapWords(bench, off)}`),
          caution('candidate-shunts', 'Magnetic shunts that were moved or taken out between the points.'),
        ]),
    ...(oneMeter
      ? []
      : [
          caution(
            'candidate-meter-kind',
            'Two kinds of meter: on a peaky current an average-responding one may read a fifth low.' +
              apartBy(given, verdict, ({ meterKind }) => meterKind),
          ),
        ]),
    ...(stiff
      ? []
      : [
          caution(
            'candidate-soft-supply',
            'A soft supply, such as a series lamp: at the same r.m.s. volts the same core draws 5 to 25 % less current.' +
              apartBy(given, verdict, ({ supplyKind }) => supplyKind),
          ),
        ]),
  ];
}
