import { conductors } from '../../../src-shared/calculation/conductor.ts';
import { controlsAtFirst, type PracticeControls } from '../../../src-shared/practice/controls.ts';
import type { DemonstrationTruth } from '../../../src-shared/practice/demonstration.ts';
import { drawSizes, type FaultSizes, type PracticeFault } from '../../../src-shared/practice/fault.ts';
import type { Scene } from '../../../src-shared/practice/scene.ts';
import type { Generator } from '../../../src-shared/quantity/generator.ts';
import type { Winding, WindingFields } from '../../../src-shared/record/build.ts';
import type { CoreFields } from '../../../src-shared/record/core.ts';
import { between, pick } from '../calculation/draw.ts';

/** A random practice bench as the record knows it, and the truth behind it. */
export interface RandomScene {
  readonly truth: DemonstrationTruth;
  readonly core: CoreFields;
  readonly windings: readonly Winding[];
  readonly volts: number;
  readonly hertz: 50 | 60;
  readonly fault: PracticeFault;
  readonly sizes: FaultSizes;
  /** Of the fed winding, in A. */
  readonly ratedAmps: number;
  readonly ratio: number;
}

export const ids = { primary: 1, secondary: 2, coil: 3 } as const;

/** A shell core of usual proportions with two windings that fill its window, as a workshop that measured it would note it. */
export function randomScene(generator: Generator, fault: PracticeFault): RandomScene {
  const [volts, hertz] = pick(generator, [[230, 50] as const, [120, 60] as const]);
  const tongue = between(generator, 28, 55);
  const stack = tongue * between(generator, 0.9, 1.6);
  const [windowWidth, windowHeight] = [tongue / 2, 1.5 * tongue];
  const areaM2 = tongue * stack * 0.95e-6;
  const turns = Math.round(volts / (4.4429 * hertz * between(generator, 1.2, 1.6) * areaM2));
  const metal = pick(generator, ['copper', 'aluminium'] as const);

  // Each winding has half the window, a third of it metal.
  const metalMm2 = (0.33 * windowWidth * windowHeight) / 2;
  const wireMm2 = metalMm2 / turns;
  const ratedAmps = wireMm2 * between(generator, 1.8, 2.6);
  // Within the 60 A of the practice clamp, a third more than rated.
  const outputTurns = Math.ceil(turns * Math.max(between(generator, 12, 48) / volts, ratedAmps / 42));
  const inner = generator.uniform() < 0.5;
  const meanTurn = (part: number) => 2 * (tongue + stack) + Math.PI * windowWidth * part;
  const ohmsPerTurn = (of: 'copper' | 'aluminium', mm2: number, part: number) =>
    (conductors[of].resistivity20 * meanTurn(part)) / 1000 / mm2;
  const primaryOhms = ohmsPerTurn(metal, wireMm2, inner ? 0.55 : 1.45);
  const outputOhms = ohmsPerTurn('copper', metalMm2 / outputTurns, inner ? 1.45 : 0.55);
  // One to three hundredths of the volts at rated amps in each winding.
  const leakage = (between(generator, 0.01, 0.03) * volts) / ratedAmps / (2 * Math.PI * hertz) / turns ** 2;
  const sizes = drawSizes(generator);

  const about = (value: number, part: number) => ({
    value: value * (1 + part * Math.max(-2, Math.min(2, generator.normal()))),
    u: part * value,
  });
  const plain = { oneEndOnCore: 'no', onPlug: false } as const;
  const fields: readonly WindingFields[] = [
    {
      ...plain,
      label: 'Primary',
      role: 'primary',
      turns: { kind: 'estimated', ...about(turns, 0.002), resultId: null },
      metal,
      bareDiameter: about(Math.sqrt((4 * wireMm2) / Math.PI), 0.01),
      ohms: about(primaryOhms * turns, 0.01),
      ohmsCelsius: 20,
    },
    {
      ...plain,
      label: 'Output',
      role: 'secondary',
      turns: { kind: 'counted', turns: outputTurns },
      metal: 'copper',
      ohms: about(outputOhms * outputTurns, 0.02),
      ohmsCelsius: 20,
    },
    { ...plain, label: 'Coil', role: 'test-coil', turns: { kind: 'counted', turns: 10 }, metal: 'copper' },
  ];
  return {
    truth: {
      iron: {
        areaM2,
        pathM: (6 * tongue) / 1000,
        gapM: between(generator, 1e-5, 6e-5),
        linear: between(generator, 50, 150),
        saturating: between(generator, 0.5, 1.5),
        exponent: between(generator, 11, 15),
        hysteresis: between(generator, 30, 90),
        steinmetz: between(generator, 1.6, 2),
        eddy: between(generator, 0.01, 0.06),
      },
      heating: { windingCapacity: 400, coreCapacity: 2000, windingToRoom: 0.3, coreToRoom: 0.8, between: 2.5 },
      turns: { primary: turns, secondary: outputTurns, 'test-coil': 10, other: 0 },
      ohmsPerTurn: { primary: primaryOhms, secondary: outputOhms, 'test-coil': 0.02, other: 0 },
      metal: { primary: metal, secondary: 'copper', 'test-coil': 'copper', other: 'copper' },
      leakage,
    },
    core: {
      label: 'A random core',
      shape: 'shell',
      fromVolts: volts,
      fromHertz: hertz,
      tongue: { value: tongue, u: 0.2 },
      stack: { value: stack, u: 0.5 },
      windowWidth: { value: windowWidth, u: 0.2 },
      windowHeight: { value: windowHeight, u: 0.3 },
    },
    windings: fields.map((each, index) => ({
      windingId: index + 1,
      revisionId: index + 1,
      replaces: null,
      reason: null,
      wallMs: 0,
      fields: each,
    })),
    volts,
    hertz,
    fault,
    // What is large or small is so for the core: a turn of this one, a lug at these amps, a supply for such a load.
    sizes: {
      ...sizes,
      shortedTurnOhms: outputOhms * between(generator, 1, 2.5),
      lugOhms: Math.max(0.008, outputOhms * outputTurns * between(generator, 0.8, 2)),
      gapMm: between(generator, 0.12, 0.35),
      softness: (sizes.softness * between(generator, 0.06, 0.1) * 230) / ratedAmps / 14,
    },
    ratedAmps,
    ratio: outputTurns / turns,
  };
}

/** The scene of one procedure on a random bench: its supply and what the person set for it. */
export const sceneFor = (
  random: RandomScene,
  kind: Scene['supply']['kind'],
  volts: number,
  line: number,
  controls: Partial<PracticeControls>,
  fault: PracticeFault = random.fault,
): Scene => ({
  truth: random.truth,
  windings: random.windings,
  turnsAdded: new Map(),
  supply: { kind, volts, hertz: random.hertz, earthed: 'earthed', rcd: 'yes' },
  line,
  fedWindingId: ids.primary,
  controls: { ...controlsAtFirst, ...controls },
  lying: { fault, sizes: random.sizes },
  temperatures: { winding: 21, core: 21 },
  isOn: true,
});
