/** Where an axis is marked, and what stands there. */
export interface Ticks {
  readonly at: readonly number[];
  readonly words: readonly string[];
}

/** 1, 2 or 5 times a power of ten: the smallest that is not below `step`. */
function niceStep(step: number): number {
  const power = 10 ** Math.floor(Math.log10(step));
  const factor = step / power;
  return power * (factor <= 1 ? 1 : factor <= 2 ? 2 : factor <= 5 ? 5 : 10);
}

const multiples = (from: number, to: number, step: number): readonly number[] => {
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => (first + index) * step);
};

/** Round values from `from` to `to`, about `count` of them, each with as many decimals as the step needs. */
export function valueTicks(from: number, to: number, count: number): Ticks {
  if (!(to > from)) return { at: [from], words: [String(from)] };
  const step = niceStep((to - from) / Math.max(1, count));
  const at = multiples(from, to, step);
  const size = Math.max(Math.abs(from), Math.abs(to));
  if (size >= 1e6 || size < 1e-4) return { at, words: at.map((value) => value.toPrecision(3)) };
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return { at, words: at.map((value) => (value === 0 ? 0 : value).toFixed(decimals)) };
}

const [second, minute, hour] = [1000, 60_000, 3_600_000];
const timeSteps = [
  ...[1, 2, 5, 10, 20, 50, 100, 200, 500].map((ms) => ms),
  ...[1, 2, 5, 10, 15, 30].map((seconds) => seconds * second),
  ...[1, 2, 5, 10, 15, 30].map((minutes) => minutes * minute),
  ...[1, 2, 3, 4, 6, 8, 12, 24, 48, 96, 192].map((hours) => hours * hour),
];

const two = (value: number): string => String(value).padStart(2, '0');

/**
 * An instant since the start of a run: `0`, `12.5 s`, `4:05`, `1:30:00`. `stepMs` says how finely: parts of a second are
 * written where steps are below one.
 */
export function instantWords(atMs: number, stepMs: number): string {
  const decimals = stepMs >= second ? 0 : Math.min(3, Math.max(1, Math.ceil(-Math.log10(stepMs / second) - 1e-9)));
  const shown = Math.round((Math.abs(atMs) / second) * 10 ** decimals) / 10 ** decimals;
  const sign = atMs < 0 && shown > 0 ? '−' : '';
  if (shown < 60) return `${sign}${shown.toFixed(decimals)} s`;
  const [hours, minutes] = [Math.floor(shown / 3600), Math.floor(shown / 60) % 60];
  const rest = (shown % 60).toFixed(decimals).padStart(decimals === 0 ? 2 : decimals + 3, '0');
  return hours > 0 ? `${sign}${hours}:${two(minutes)}:${rest}` : `${sign}${minutes}:${rest}`;
}

/** Round instants from `fromMs` to `toMs`, about `count` of them: in seconds, minutes or hours as the span asks. */
export function timeTicks(fromMs: number, toMs: number, count: number): Ticks {
  if (!(toMs > fromMs)) return { at: [fromMs], words: [instantWords(fromMs, second)] };
  const wanted = (toMs - fromMs) / Math.max(1, count);
  const step = timeSteps.find((each) => each >= wanted) ?? niceStep(wanted / hour) * hour;
  const at = multiples(fromMs, toMs, step);
  const words = at.map((ms) => {
    if (ms === 0) return '0';
    if (step >= hour) return `${ms / hour} h`;
    if (step >= minute && toMs < 3 * hour) return `${ms / minute} min`;
    return instantWords(ms, step);
  });
  return { at, words };
}
