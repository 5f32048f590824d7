import type { BrowserWindowConstructorOptions, Rectangle } from 'electron';

/** The smallest window that the pages are drawn for. */
const smallest = { minWidth: 1024, minHeight: 700 };

/** How our window is made: a page in its sandbox, apart from the bridge, without Node, under the rules of the web. */
export function windowOptions(place: Rectangle, preload: string): BrowserWindowConstructorOptions {
  return {
    ...place,
    ...smallest,
    title: 'Turnwright',
    // Shown when the page is drawn.
    show: false,
    webPreferences: {
      preload,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      spellcheck: false,
      // An alarm sounds also before the person has clicked anywhere.
      autoplayPolicy: 'no-user-gesture-required',
      // Readings go on being drawn, and silence noticed, while another window is in front.
      backgroundThrottling: false,
    },
  };
}
