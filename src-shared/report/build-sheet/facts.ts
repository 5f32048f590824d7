import type { UnitSystem } from '../../quantity/unit.ts';
import type { Build } from '../../record/build.ts';
import type { Core } from '../../record/core.ts';
import type { PlanVersion } from '../../record/plan.ts';
import type { StaleMark } from '../../record/plan-stale.ts';
import type { SheetMade } from '../sheet-page.ts';

/** What a build sheet is made from: one kept version of a plan, and the record that it stands on as it is now. */
export interface BuildSheetParts extends SheetMade {
  readonly core: Core;
  readonly build: Build;
  readonly version: PlanVersion;
  /** How many versions of the plan there are. */
  readonly versions: number;
  /** What changed under this version since it was made. */
  readonly stale: readonly StaleMark[];
  /** Label of the need that it is for; null when it was planned without one. */
  readonly need: string | null;
  /** The core is invented: nothing of this was measured. */
  readonly practice: boolean;
  readonly system: UnitSystem;
}
