import { done, failed } from '../../src-shared/contract/failure.ts';
import type { Push } from '../../src-shared/contract/push.ts';
import { isPowered } from '../../src-shared/interlock/state.ts';
import { demonstrationCores, demonstrationTruth } from '../../src-shared/practice/demonstration.ts';
import type { PracticeMeter } from '../../src-shared/meter/description.ts';
import { furtherPracticeMeters, practicePair } from '../../src-shared/practice/practice-pair.ts';
import { hiddenWindings } from '../../src-shared/practice/scene.ts';
import type { Services } from '../host/service.ts';
import type { Bench } from '../bench/bench.ts';
import type { GuardKeeper } from '../bench/guard-keeper.ts';
import type { MeterHub } from '../meter/hub.ts';
import type { PracticeBench } from '../practice/practice-bench.ts';
import type { PracticeSetting } from '../practice/practice-setting.ts';
import type { Store } from '../store/store.ts';

interface Parts {
  readonly store: Store;
  readonly hub: MeterHub;
  readonly practice: PracticeBench;
  readonly bench: Pick<Bench, 'run' | 'setUpAgain'>;
  readonly guard: Pick<GuardKeeper, 'state'>;
  readonly setting: PracticeSetting;
  readonly push: (push: Push) => void;
}

type PracticeServices = Pick<
  Services,
  | 'practice.lay-out'
  | 'practice.more-meters'
  | 'practice.exchange'
  | 'practice.get'
  | 'practice.set'
  | 'practice.hide'
  | 'practice.tell'
  | 'practice.mend'
  | 'practice.press'
  | 'practice.hidden'
>;

/** Answers about what can be tried without hardware. */
export function practiceServices({ store, hub, practice, setting, bench, guard, push }: Parts): PracticeServices {
  /** Every demonstration core that is not on the shelf yet. */
  const layOutCores = () => {
    for (const { core, windings, build } of demonstrationCores) {
      const isThere = store.cores.list().some(({ fields }) => fields.demonstration === core.demonstration);
      if (isThere) continue;
      const added = store.cores.add(core, build);
      if (!added.ok) return added;
      for (const winding of windings) {
        const wound = store.builds.addWinding(added.value.build.buildId, winding);
        if (!wound.ok) return wound;
      }
      push({ kind: 'changed', what: 'core', id: added.value.core.coreId });
    }
    return done(null);
  };

  const layOutMeters = async (meters: readonly PracticeMeter[]) => {
    for (const description of meters) {
      const isThere = store.meters.list().some(({ description: { kind, label } }) => {
        return kind === 'practice' && label === description.label;
      });
      if (isThere) continue;
      const added = store.meters.add(description);
      if (!added.ok) return added;
      await hub.start(added.value.meterId, description);
      push({ kind: 'changed', what: 'meter', id: added.value.meterId });
    }
    return done(null);
  };

  const practiceMeterIds = () =>
    store.meters.list().flatMap(({ meterId, description }) => (description.kind === 'practice' ? [meterId] : []));

  return {
    'practice.lay-out': async () => {
      const cores = layOutCores();
      if (!cores.ok) return cores;
      const meters = await layOutMeters(practicePair);
      if (!meters.ok) return meters;
      return done({
        coreIds: store.cores
          .list()
          .flatMap(({ coreId, fields }) => (fields.demonstration === undefined ? [] : [coreId])),
        meterIds: practiceMeterIds(),
      });
    },
    'practice.more-meters': async () => {
      const meters = await layOutMeters(furtherPracticeMeters);
      return meters.ok ? done({ meterIds: practiceMeterIds() }) : meters;
    },
    'practice.get': () => done(practice.now()),
    'practice.set': ({ controls }) => {
      const isOtherTime = controls.timeFactor !== setting.controls.timeFactor;
      if (isOtherTime && (bench.run !== null || isPowered(guard.state))) {
        return failed(
          'run-open',
          'A run keeps its time from its start to its end: declare power off and end the run, then let time run otherwise.',
          { path: 'controls.timeFactor' },
        );
      }
      practice.catchUp();
      setting.set(controls);
      if (isOtherTime) bench.setUpAgain();
      return done(practice.now());
    },
    'practice.hide': () => {
      practice.catchUp();
      setting.hide();
      return done(practice.now());
    },
    'practice.tell': () => {
      setting.tell();
      return done(practice.now());
    },
    'practice.mend': () => {
      practice.catchUp();
      setting.mend();
      return done(practice.now());
    },
    'practice.press': () => {
      setting.press();
      return done(practice.now());
    },
    'practice.hidden': ({ coreId }) => {
      const core = store.cores.get(coreId);
      if (core === null) return failed('not-found', `There is no core ${coreId}.`, { path: 'coreId' });
      if (core.fields.demonstration === undefined) {
        return failed('not-found', 'This is a real core: nobody knows what is behind it.', { path: 'coreId' });
      }
      return done(hiddenWindings(demonstrationTruth(core.fields.demonstration), store.builds.listOf(coreId)));
    },
    'practice.exchange': ({ exchanged }) => {
      practice.exchange(exchanged);
      return done({});
    },
  };
}
