import { existsSync } from 'node:fs';

/** Flags that keep a browser without network quick and quiet. */
export const browserFlags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
] as const;

const places = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/microsoft-edge',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

/** The path of an installed Chrome, Chromium or Edge; throws with what to install when there is none. */
export function findBrowser(): string {
  const named = process.env['TURNWRIGHT_BROWSER'];
  const found = [...(named === undefined ? [] : [named]), ...places].find((path) => existsSync(path));
  if (found === undefined) {
    throw new Error('No Chrome, Chromium or Edge found. Install one, or name it in TURNWRIGHT_BROWSER.');
  }
  return found;
}
