import { createContext } from 'svelte';
import type { ChannelBoxes, ChannelsForm } from '../page/bench/channels-form.svelte.ts';
import type { FieldBoxes, FieldsForm } from '../page/bench/fields-form.svelte.ts';
import type { PairBoxes, SetUpForm } from '../page/bench/setup-form.svelte.ts';
import type { SessionBoxes, SessionForm } from '../page/bench/session-form.svelte.ts';
import type { CoreBoxes, CoreForm } from '../page/shelf/core-form.svelte.ts';
import type { NeedBoxes, NeedForm } from '../page/shelf/need/need-form.svelte.ts';
import type { WindingBoxes, WindingForm } from '../page/core/winding-form.svelte.ts';
import type { PlanDraft } from '../page/plan/plan-draft.svelte.ts';
import type { SeveralForm } from '../page/several/several-form.svelte.ts';
import type { WoundForm } from '../page/wound/wound-form.svelte.ts';
import type { WorkingForm } from '../page/workings/working-form.svelte.ts';
import type { MeterBoxes } from '../page/meters/meter-boxes.ts';
import type { MeterForm } from '../page/meters/meter-form.svelte.ts';
import type { Connection } from './connection.svelte.ts';
import type { Guarding } from './guarding.svelte.ts';
import type { Keeping } from './keeping.ts';
import type { KeptForms } from './kept-forms.ts';
import type { Kept } from './kept.ts';
import type { Lessons } from './lessons.svelte.ts';
import type { LiveReadings } from './live-readings.ts';
import type { Present } from './present.svelte.ts';
import type { Route } from './route.svelte.ts';
import type { Sounds } from './sounds.ts';

/** What every page works with. Made once, by whoever starts the page. */
export interface Workshop {
  readonly connection: Connection;
  readonly present: Present;
  readonly guarding: Guarding;
  readonly live: LiveReadings;
  readonly route: Route;
  readonly lessons: Lessons;
  readonly sounds: Sounds;
  /** Forms that were begun and not yet kept or given up. */
  readonly drafts: {
    readonly cores: KeptForms<CoreBoxes, CoreForm>;
    readonly needs: KeptForms<NeedBoxes, NeedForm>;
    readonly windings: KeptForms<WindingBoxes, WindingForm>;
    readonly meters: KeptForms<MeterBoxes, MeterForm>;
    readonly pairs: KeptForms<PairBoxes, SetUpForm>;
    readonly channels: KeptForms<ChannelBoxes, ChannelsForm>;
    readonly answers: KeptForms<FieldBoxes, FieldsForm>;
    readonly sessions: KeptForms<SessionBoxes, SessionForm>;
    readonly wound: Kept<WoundForm>;
    readonly plans: Kept<PlanDraft>;
    readonly several: Kept<SeveralForm>;
    readonly workings: Kept<WorkingForm>;
  };
  /** What the page keeps over reloads. */
  readonly keeping: Keeping;
}

/** `useWorkshop()` in any component below `App`; `provideWorkshop` is called by `App` alone. */
export const [useWorkshop, provideWorkshop] = createContext<Workshop>();
