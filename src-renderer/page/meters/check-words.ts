import type { Correction } from '../../../src-shared/meter/correction.ts';
import type { CheckVerdict, MeterCheck } from '../../../src-shared/meter/meter-check.ts';
import type { MeterRange } from '../../../src-shared/meter/range.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';

/** A range by its top and kind: `20 V d.c.`. */
export function rangeName({ top, unit, coupling }: MeterRange): string {
  const kind = { ac: ' a.c.', dc: ' d.c.', 'ac+dc': ' a.c. + d.c.' };
  return `${formatNumber(top, 5)} ${unit}${coupling === null ? '' : kind[coupling]}`;
}

/** How a check came out: its shape and its words. */
export const verdictWords = {
  within: { kind: 'well', word: 'Agrees with its sheet' },
  outside: { kind: 'bad', word: 'Off by more than its sheet allows' },
  'cannot-tell': { kind: 'waiting', word: 'This reference is not good enough to tell' },
  'no-sheet': { kind: 'none', word: 'No range is described that it could be held against' },
} as const satisfies Record<CheckVerdict, { kind: string; word: string }>;

/** What was compared: `showed 12.30 V against 12 V ± 0.0058 V`. The doubt is a standard uncertainty. */
export function checkWords({ shown, resolution, unit, reference }: MeterCheck): string {
  const places = resolution > 0 ? Math.min(12, Math.max(0, Math.ceil(-Math.log10(resolution) - 1e-9))) : null;
  const value = places === null ? formatNumber(shown, 6) : shown.toFixed(places);
  const doubt = reference.u === null ? ', doubt not known' : `, u ${formatNumber(reference.u, 2)} ${unit}`;
  return `showed ${value} ${unit} against ${formatNumber(reference.value, 7)} ${unit}${doubt}`;
}

/** What a correction does: `readings x 0.9756, give or take 0.05 %`. The figure is a standard uncertainty. */
export const correctionWords = ({ factor, percent }: Correction): string =>
  `readings × ${factor.toFixed(5)}, standard uncertainty ${formatNumber(percent, 2)} %`;
