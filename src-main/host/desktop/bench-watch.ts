import { isPowered } from '../../../src-shared/interlock/state.ts';
import type { Push } from '../../../src-shared/contract/push.ts';
import type { Carried } from '../run-local.ts';

/** What the shell has to know of the bench: whether power counts as on, and whether a run records. */
export interface BenchStanding {
  readonly isPowered: boolean;
  readonly isRecording: boolean;
}

export const nothingStanding: BenchStanding = { isPowered: false, isRecording: false };

const after = (standing: BenchStanding, push: Push): BenchStanding => {
  if (push.kind === 'guard') return { ...standing, isPowered: isPowered(push.guard.state) };
  if (push.kind === 'run') return { ...standing, isRecording: push.run !== null };
  return standing;
};

/**
 * Tells how the bench stands, at once and on every change, from what the program tells its pages. Returns what ends it.
 */
export function watchBench(
  { services, subscribe }: Pick<Carried, 'services' | 'subscribe'>,
  tell: (standing: BenchStanding) => void,
): () => void {
  let standing = nothingStanding;
  const change = (next: BenchStanding) => {
    if (next.isPowered === standing.isPowered && next.isRecording === standing.isRecording) return;
    standing = next;
    tell(standing);
  };
  const leave = subscribe((push) => {
    change(after(standing, push));
  });
  tell(standing);
  void Promise.resolve(services['app.present']({})).then((present) => {
    if (!present.ok) return;
    const { guard, run } = present.value;
    change({ isPowered: isPowered(guard.state), isRecording: run !== null });
  });
  return leave;
}
