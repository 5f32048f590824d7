/** What an axis shows: from, to, and where its marks stand. */
export interface Scale {
  readonly from: number;
  readonly to: number;
  readonly marks: readonly number[];
}

/** An axis over these values, with round marks in steps of 1, 2 or 5 and about so many of them. */
export function scaleOver(values: readonly number[], marks: number, isCount = false): Scale {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const span = high > low ? high - low : Math.abs(high) || 1;
  const margin = isCount ? 0 : high > low ? span * 0.04 : span / 2;
  const [from, to] = [low - margin, high + margin];
  const step = Math.max(roundStep((to - from) / marks), isCount ? 1 : 0);
  const first = Math.ceil(from / step);
  const count = Math.floor(to / step) - first + 1;
  return {
    from,
    to,
    marks: Array.from({ length: Math.max(0, count) }, (_, at) => Number(((first + at) * step).toPrecision(12))),
  };
}

function roundStep(atLeast: number): number {
  const power = 10 ** Math.floor(Math.log10(atLeast));
  return [1, 2, 5, 10].map((factor) => factor * power).find((step) => step >= atLeast * 0.999) ?? power * 10;
}
