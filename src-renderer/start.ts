import { mount, unmount } from 'svelte';
import '@fontsource-variable/atkinson-hyperlegible-next';
import '@fontsource-variable/atkinson-hyperlegible-mono';
import './look/tokens.css';
import './look/base.css';
import App from './App.svelte';
import { ChannelBoxes } from './page/bench/channels-form.svelte.ts';
import { FieldBoxes } from './page/bench/fields-form.svelte.ts';
import { PairBoxes } from './page/bench/setup-form.svelte.ts';
import { SessionBoxes } from './page/bench/session-form.svelte.ts';
import { WindingBoxes } from './page/core/winding-form.svelte.ts';
import { MeterBoxes } from './page/meters/meter-boxes.ts';
import { CoreBoxes } from './page/shelf/core-form.svelte.ts';
import { NeedBoxes } from './page/shelf/need/need-form.svelte.ts';
import { Connection } from './state/connection.svelte.ts';
import { Guarding } from './state/guarding.svelte.ts';
import { browserKeeping } from './state/keeping.ts';
import { KeptForms } from './state/kept-forms.ts';
import { Kept } from './state/kept.ts';
import { Lessons } from './state/lessons.svelte.ts';
import { LiveReadings } from './state/live-readings.ts';
import type { Memory } from './state/memory.ts';
import { Present } from './state/present.svelte.ts';
import { Route } from './state/route.svelte.ts';
import { Sounds } from './state/sounds.ts';
import type { Transport } from './state/transport.ts';
import type { Workshop } from './state/workshop.ts';

/** Puts the page together over a transport and shows it. Returns the parts and what ends it all. */
export function startPage(
  target: HTMLElement,
  transport: Transport,
  memory: Memory,
): { readonly workshop: Workshop; readonly stop: () => Promise<void> } {
  const connection = new Connection(transport, memory);
  const present = new Present(connection);
  const keeping = browserKeeping(() => window.localStorage);
  const workshop: Workshop = {
    connection,
    present,
    guarding: new Guarding(connection, present),
    live: new LiveReadings(connection),
    route: new Route(window),
    lessons: new Lessons(connection),
    sounds: new Sounds(),
    drafts: {
      cores: new KeptForms('core', CoreBoxes, keeping),
      needs: new KeptForms('need', NeedBoxes, keeping),
      windings: new KeptForms('winding', WindingBoxes, keeping),
      meters: new KeptForms('meter', MeterBoxes, keeping),
      pairs: new KeptForms('pairs', PairBoxes, keeping),
      channels: new KeptForms('channels', ChannelBoxes, keeping),
      answers: new KeptForms('answers', FieldBoxes, keeping),
      sessions: new KeptForms('session', SessionBoxes, keeping),
      plans: new Kept(),
      several: new Kept(),
      wound: new Kept(),
      workings: new Kept(),
    },
    keeping,
  };
  const app = mount(App, { target, props: { workshop } });
  const remember = (): void => connection.remember();
  window.addEventListener('pagehide', remember);
  connection.start();
  return {
    workshop,
    async stop() {
      window.removeEventListener('pagehide', remember);
      await unmount(app);
      connection.stop();
      workshop.sounds.stop();
      workshop.live.stop();
      workshop.lessons.stop();
      present.stop();
      workshop.route.stop();
    },
  };
}
