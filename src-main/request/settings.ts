import { done } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { Services } from '../host/service.ts';
import type { Store } from '../store/store.ts';

/** Answers about what the person chose for the whole program. */
export function settingsServices(store: Store, push: (push: Push) => void): Pick<Services, 'settings.save'> {
  return {
    'settings.save': ({ settings }) => {
      const saved = store.settings.save(settings);
      if (!saved.ok) return saved;
      push({ kind: 'changed', what: 'settings', id: null });
      return done(saved.value);
    },
  };
}
