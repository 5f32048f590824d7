import type { Winding } from '../../record/build.ts';
import { windingsOff } from '../../record/windings-off.ts';
import type { BuildSheetParts } from './facts.ts';

/** What is on the core beside its primary: which of it comes off by the plan, and which stays. */
export interface OldWindings {
  /** Nothing else is described on this build: it is bare, or nobody wrote it down. */
  readonly isUndescribed: boolean;
  readonly off: readonly string[];
  readonly stays: readonly string[];
}

const labels = (windings: readonly Winding[]): readonly string[] => windings.map(({ fields }) => fields.label);

/** As the plan’s form held it: the numbers of the windings that were to come off. */
export function oldWindings({ build, version }: BuildSheetParts): OldWindings {
  const others = build.windings.filter(({ fields }) => fields.role !== 'primary' && fields.role !== 'test-coil');
  const off = windingsOff(version.fields) ?? new Set<number>();
  return {
    isUndescribed: others.length === 0,
    off: labels(others.filter(({ windingId }) => off.has(windingId))),
    stays: labels(others.filter(({ windingId }) => !off.has(windingId))),
  };
}

const inch = 25.4;

/** Bare diameter of the wire for added primary turns, in mm; null where the plan did not say. */
export function addedWireMm({ version }: BuildSheetParts): number | null {
  const { units, whole } = version.fields.asked;
  const text = whole['addedWire'];
  const value = typeof text === 'string' && text.trim() !== '' ? Number(text.replace(',', '.')) : Number.NaN;
  return Number.isFinite(value) && value > 0 ? value * (units === 'us' ? inch : 1) : null;
}
