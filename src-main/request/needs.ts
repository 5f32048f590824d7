import { done, failed } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import type { Services } from '../host/service.ts';
import type { Store } from '../store/store.ts';

type NeedServices = Pick<Services, 'need.list' | 'need.save' | 'need.retire'>;

/** Answers about what projects ask for. */
export function needServices({ needs }: Store, push: (push: Push) => void): NeedServices {
  const changed = (needId: number) => {
    push({ kind: 'changed', what: 'need', id: needId });
  };
  return {
    'need.list': () => done([...needs.list()]),

    'need.save': ({ needId, reason, fields }) => {
      if (needId !== undefined && reason === undefined) {
        return failed('bad-input', 'A correction needs a reason: say what changed.', { path: 'reason' });
      }
      const saved = needId === undefined ? needs.add(fields) : needs.revise(needId, reason ?? '', fields);
      if (!saved.ok) return saved;
      changed(saved.value.needId);
      return done({ needId: saved.value.needId });
    },

    'need.retire': ({ needId, reason }) => {
      const retired = needs.retire(needId, reason);
      if (!retired.ok) return retired;
      changed(needId);
      return done({});
    },
  };
}
