import type { Build } from '../../../src-shared/record/build.ts';
import type { Session } from '../../../src-shared/record/session.ts';
import type { Presets } from './fields-form.svelte.ts';

/** What the session and the build know of the things that a procedure asks. */
export function presetsOf(session: Session | null, build: Build | null): Presets {
  const turns = build?.windings.find(({ windingId }) => windingId === session?.fields.fedWindingId)?.fields.turns;
  return {
    ambient: session?.fields.ambientCelsius ?? null,
    'primary-turns':
      turns === undefined || turns.kind === 'unknown' ? null : turns.kind === 'counted' ? turns.turns : turns.value,
  };
}
