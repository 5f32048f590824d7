import { conductors, type Metal } from '../calculation/conductor.ts';
import type { Build, Winding, WindingFields } from '../record/build.ts';
import type { Supply } from '../record/session.ts';
import type { HiddenWinding, PracticeControls } from './controls.ts';
import type { DemonstrationTruth } from './demonstration.ts';
import type { Temperatures } from './heating.ts';
import type { PracticeBench } from './observed.ts';
import type { FaultSizes, LyingFault } from './fault.ts';
import { circuitFaults, coilTurnsOff, truly } from './fault-effect.ts';
import { practiceSupply } from './practice-supply.ts';
import type { PracticeWinding } from './windings.ts';

/** Everything that a practice bench is made of: the truth behind the core, what the record says, and what was set. */
export interface Scene {
  readonly truth: DemonstrationTruth;
  /** Windings of the build on the bench. */
  readonly windings: readonly Winding[];
  /** Turns that all builds up to this one added to a winding, by its label. */
  readonly turnsAdded: ReadonlyMap<string, number>;
  readonly supply: Supply;
  /** What the line gives of its stated volts now; about 1. */
  readonly line: number;
  readonly fedWindingId: number | null;
  readonly controls: PracticeControls;
  /** The fault that lies in the bench, and how bad it is: the one that was chosen, or one that is hidden. */
  readonly lying: LyingFault;
  readonly temperatures: Temperatures;
  readonly isOn: boolean;
}

export const roomCelsius = 21;
/** Turns that were added to each winding, by its label, over all builds up to one. */
export function turnsAddedIn(windings: readonly Winding[]): ReadonlyMap<string, number> {
  const added = new Map<string, number>();
  for (const { fields } of windings) added.set(fields.label, (added.get(fields.label) ?? 0) + (fields.turnsAdded ?? 0));
  return added;
}

/** How many turns a winding truly has: those that were counted, else the hidden ones and what was added to them. */
const trueTurns = (
  { label, role, turns }: WindingFields,
  truth: DemonstrationTruth,
  turnsAdded: ReadonlyMap<string, number>,
): number => (turns.kind === 'counted' ? turns.turns : truth.turns[role] + (turnsAdded.get(label) ?? 0));

/** What is behind every winding of a demonstration core, build by build. */
export const hiddenWindings = (truth: DemonstrationTruth, builds: readonly Build[]): HiddenWinding[] =>
  builds.flatMap(({ buildId, number, windings }) => {
    const upTo = builds.filter((other) => other.number <= number);
    const added = turnsAddedIn(upTo.flatMap((other) => other.windings));
    return windings.map(({ windingId, fields }) => {
      const turns = trueTurns(fields, truth, added);
      const { label, role } = fields;
      return { buildId, windingId, label, turns, ohms20: truth.ohmsPerTurn[role] * turns, metal: truth.metal[role] };
    });
  });

/** The metal of a winding, and how much more it resists than as it was made. */
function metalOf(
  scene: Scene,
  { windingId, fields: { role } }: Winding,
): { readonly metal: Metal; readonly times: number } {
  const { truth, controls, lying, fedWindingId } = scene;
  const made = truth.metal[role];
  const other = made === 'copper' ? 'aluminium' : 'copper';
  const chosen = windingId !== fedWindingId ? made : lying.fault === 'other-metal' ? other : (controls.metal ?? made);
  return { metal: chosen, times: conductors[chosen].resistivity20 / conductors[made].resistivity20 };
}

/** Turns of a winding on the bench: a test coil that was wound anew is counted right, the one of the build may be off. */
function turnsOnBench(scene: Scene, { fields }: Winding): number {
  if (fields.role !== 'test-coil') return trueTurns(fields, scene.truth, scene.turnsAdded);
  const own = trueTurns(fields, scene.truth, scene.turnsAdded) + coilTurnsOff(scene.lying);
  return scene.controls.coilTurns ?? own;
}

function windingOf(scene: Scene, winding: Winding): PracticeWinding {
  const { truth, controls } = scene;
  const { label, role, oneEndOnCore } = winding.fields;
  const turns = turnsOnBench(scene, winding);
  const { metal, times } = metalOf(scene, winding);
  return {
    id: String(winding.windingId),
    label,
    role,
    turns,
    metal,
    ohms20: truth.ohmsPerTurn[role] * turns * times,
    henries: truth.leakage * turns * turns,
    endOnCore: oneEndOnCore === 'yes' || (controls.endOnCore && role === 'secondary'),
  };
}

const withGap = (truth: DemonstrationTruth, gapMm: number) => ({
  ...truth.iron,
  gapM: truth.iron.gapM + gapMm / 1000,
});

/** Shunts that were set by hand are as those that lie there as a fault. */
const shuntFactorOf = ({ shuntsIn }: PracticeControls, sizes: FaultSizes): number => (shuntsIn ? sizes.shuntFactor : 1);

/** The bench that a scene makes; null while nobody has said which winding is fed. */
export function practiceBenchOf(scene: Scene): PracticeBench | null {
  const { truth, windings, supply, line, fedWindingId, lying, temperatures, isOn } = scene;
  if (fedWindingId === null) return null;
  const made = windings.map((winding) => windingOf(scene, winding));
  const fed = made.find(({ id }) => id === String(fedWindingId));
  const loaded = made.find(({ role, id }) => role === 'secondary' && id !== fed?.id);
  if (fed === undefined) return null;
  const controls = truly(scene.controls, lying);
  const { addedTurns, addedOpposed, loadOhms } = controls;
  return {
    transformer: {
      iron: withGap(truth, controls.jointGapMm),
      windings: made,
      heating: truth.heating,
      shuntFactor: shuntFactorOf(controls, lying.sizes),
      coilBeyondShunts: controls.coilBeyondShunts,
    },
    supply: practiceSupply(supply, line, controls, lying.sizes.softness),
    isOn,
    fedWindingId: fed.id,
    added:
      addedTurns === 0
        ? null
        : { turns: addedTurns, ohms20: (fed.ohms20 * addedTurns) / fed.turns, opposed: addedOpposed },
    loads: loadOhms === null || loaded === undefined ? {} : { [loaded.id]: loadOhms },
    faults: circuitFaults(lying),
    temperatures,
    roomCelsius,
  };
}
