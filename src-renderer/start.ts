import { mount, unmount } from 'svelte';
import '@fontsource-variable/atkinson-hyperlegible-next';
import '@fontsource-variable/atkinson-hyperlegible-mono';
import './look/tokens.css';
import './look/base.css';
import App from './App.svelte';
import { Connection } from './state/connection.svelte.ts';
import { Guarding } from './state/guarding.svelte.ts';
import { Kept } from './state/kept.ts';
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
  const workshop: Workshop = {
    connection,
    present,
    guarding: new Guarding(connection, present),
    live: new LiveReadings(connection),
    route: new Route(window),
    sounds: new Sounds(),
    drafts: { cores: new Kept(), windings: new Kept(), meters: new Kept() },
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
      present.stop();
      workshop.route.stop();
    },
  };
}
