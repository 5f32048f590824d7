import type { Supply } from '../record/session.ts';
import type { PracticeControls } from './controls.ts';
import type { PracticeSupply } from './observed.ts';

const isolated = ['isolated-low-voltage', 'isolating-transformer'];
const mainsVolts = 230;

/**
 * What lies behind the terminals, for a source of 230 V; one of fewer volts has so much less of it. A stiff one is a short
 * cord next to the board, a soft one a small isolating transformer or a long lead on its drum. Invented.
 */
const behind = {
  stiff: { ohms: 0.05, henries: 2e-5 },
  usual: { ohms: 0.25, henries: 2e-4 },
  soft: { ohms: 14, henries: 0.02 },
} as const satisfies Record<PracticeControls['source'], { readonly ohms: number; readonly henries: number }>;
/** A source that is not the mains itself has its own transformer before it, whatever its volts. */
const notMains = { ohms: 0.6, henries: 6e-4 };

/** Sources whose volts are turned; all others give what they are made for. */
const turnedKinds: readonly Supply['kind'][] = ['variable-transformer', 'isolated-low-voltage'];
export const hasKnob = (kind: Supply['kind']): boolean => turnedKinds.includes(kind);

/** What a source is turned to, in % of its volts: all of them where it has no knob. */
export const turnedTo = (kind: Supply['kind'], supplyPercent: number): number => (hasKnob(kind) ? supplyPercent : 100);

/** Supplies as they are behind their terminals; a series lamp is a 60 W one. Invented. */
export function practiceSupply(
  { kind, volts, hertz }: Supply,
  line: number,
  controls: Pick<PracticeControls, 'supplyPercent' | 'source' | 'hertz'>,
  softness: number,
): PracticeSupply {
  const { ohms, henries } = behind[controls.source];
  const scale = controls.source === 'soft' ? (softness * volts) / mainsVolts : 1;
  const own =
    controls.source === 'usual' && kind !== 'mains' ? notMains : { ohms: ohms * scale, henries: henries * scale };
  return {
    volts: (volts * line * turnedTo(kind, controls.supplyPercent)) / 100,
    hertz: controls.hertz ?? hertz,
    ...own,
    lamp: kind === 'mains-through-lamp' ? { watts: 60, volts: mainsVolts } : null,
    isolated: isolated.includes(kind),
  };
}

/** The supply of a house wanders by half a per cent within minutes. Invented. */
const wander = (atMs: number): number => 0.004 * Math.sin(atMs / 41_000) + 0.001 * Math.sin(atMs / 7000);
/** A line that drifts loses so much while the street cooks, and has it back as long after. Invented. */
const drift = { share: 0.06, overMs: 600_000 } as const;

/** What the line gives of its stated volts at a time; about 1. */
export function lineAt(line: PracticeControls['line'], atMs: number): number {
  if (line === 'steady') return 1;
  if (line === 'wandering') return 1 + wander(atMs);
  const way = (atMs / drift.overMs) % 2;
  return 1 + wander(atMs) - drift.share * (way < 1 ? way : 2 - way);
}
