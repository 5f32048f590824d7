import { behindRectifier } from '../../../src-shared/ranking/asked.ts';
import type { Feeds } from './output-form.svelte.ts';

/** What the winding has to do for an output: alternating volts and amps, or the reason why it cannot. */
export type WindingNeed =
  | { readonly kind: 'alternating'; readonly volts: number; readonly amps: number; readonly note: string | null }
  | { readonly kind: 'refused'; readonly message: string };

/**
 * Volts and amps of the winding for what it feeds. Behind a rectifier with a capacitor the box says the direct ones, and
 * the higher end of the rule for the current is planned for. A centre tap is two such outputs, one for each half.
 */
export function windingNeed(feeds: Feeds, volts: number, amps: number): WindingNeed {
  if (feeds === 'ac') return { kind: 'alternating', volts, amps, note: null };
  const answer = behindRectifier(feeds, volts, amps);
  if (!answer.ok) return { kind: 'refused', message: answer.error.message };
  const { secondaryVolts, secondaryAmps } = answer.results;
  const ac = { volts: Number(secondaryVolts.value.toFixed(2)), amps: Number(secondaryAmps.to.value.toFixed(2)) };
  return {
    kind: 'alternating',
    ...ac,
    note: `For ${volts} V direct at ${amps} A the winding gives ${ac.volts} V and carries ${ac.amps} A${
      feeds === 'centre-tap' ? ', each half' : ''
    }.`,
  };
}
