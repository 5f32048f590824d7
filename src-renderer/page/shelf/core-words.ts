import type { Build } from '../../../src-shared/record/build.ts';
import type { CoreFields } from '../../../src-shared/record/core.ts';
import { formatNumber } from '../../../src-shared/quantity/format.ts';
import { inSystem, type UnitSystem } from '../../../src-shared/quantity/unit.ts';
import { writtenParts } from '../../../src-shared/quantity/written-parts.ts';

/** A metric figure was mostly typed and is shown as it is; a converted one has no more digits than anybody reads off. */
const figuresIn: Readonly<Record<UnitSystem, number>> = { metric: 4, us: 3 };

/** A length or mass in the person's units, without its uncertainty: `40 mm`, `1.57 in`. */
export function inUnits(value: number, unit: 'mm' | 'kg', system: UnitSystem): string {
  const shown = inSystem({ value, u: null, unit }, system);
  return `${formatNumber(shown.value, figuresIn[system])} ${shown.unit}`;
}

/** Tongue and stack as they are said together: `40 × 52 mm`; null when either is missing. */
export function tongueByStack(fields: CoreFields, system: UnitSystem): string | null {
  if (fields.tongue === undefined || fields.stack === undefined) return null;
  const [tongue, stack] = [fields.tongue, fields.stack].map(({ value }) =>
    inSystem({ value, u: null, unit: 'mm' }, system),
  );
  if (tongue === undefined || stack === undefined) return null;
  const figures = figuresIn[system];
  return `${formatNumber(tongue.value, figures)} × ${formatNumber(stack.value, figures)} ${stack.unit}`;
}

/** Turns as the record has them: `120`, `164.3 ± 0.9`; null when not known. */
export function turnsWords(turns: Build['windings'][number]['fields']['turns']): string | null {
  switch (turns.kind) {
    case 'unknown':
      return null;
    case 'counted':
      return formatNumber(turns.turns, 7);
    case 'estimated': {
      const parts = writtenParts({ value: turns.value, u: turns.u, unit: '' });
      return parts.u === null ? parts.value : `${parts.value} ± ${parts.u}`;
    }
  }
}

/** What is missing before this core can be judged, each as a short line; empty when nothing is. */
export function notKnown(fields: CoreFields, builds: readonly Build[]): readonly string[] {
  const missing: string[] = [];
  const latest = builds.at(-1);
  const primaries = latest?.windings.filter(({ fields: { role } }) => role === 'primary') ?? [];
  if (primaries.length === 0) missing.push('No primary described');
  else if (primaries.some(({ fields: { turns } }) => turns.kind === 'unknown'))
    missing.push('Primary turns: not known');
  if (fields.mass === undefined) missing.push('Mass: not weighed');
  if (fields.tongue === undefined || fields.stack === undefined) missing.push('Tongue and stack: not measured');
  const isWindowKnown =
    fields.windowWidth !== undefined && (fields.windowHeight !== undefined || fields.shape === 'toroid');
  if (!isWindowKnown) missing.push(fields.shape === 'toroid' ? 'Hole: not measured' : 'Window: not measured');
  return missing;
}

/** A drawing of a core for those who do not see it. */
export function drawingWords(fields: CoreFields, system: UnitSystem): string {
  const sizes = tongueByStack(fields, system);
  const measured = sizes === null ? 'tongue and stack not measured' : `tongue by stack ${sizes}`;
  return `${fields.label}, section and side view to the scale of the shelf, ${measured}`;
}
