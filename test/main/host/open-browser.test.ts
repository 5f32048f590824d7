import { describe, expect, it } from 'vitest';
import { browserOpener, openBrowser } from '../../../src-main/host/open-browser.ts';

const heard = (command: readonly [string, ...string[]]) =>
  new Promise<string>((resolve) => {
    openBrowser('http://127.0.0.1:1/#t=x', command, resolve);
  });

describe('opening the browser', () => {
  it('knows how on each system', () => {
    expect(browserOpener('linux')).toEqual(['xdg-open']);
    expect(browserOpener('darwin')).toEqual(['open']);
    expect(browserOpener('win32')).toEqual(['rundll32', 'url.dll,FileProtocolHandler']);
  });

  it('says one line when there is no opener, and goes on', async () => {
    expect(await heard(['no-such-opener'])).toMatch(
      /^No browser could be opened \(.*ENOENT\)\. Open the address above/,
    );
  });

  it('says so when the opener fails', async () => {
    expect(await heard([process.execPath, '-e', 'process.exit(3)'])).toContain('ended with 3');
  });

  it('hands it the address', async () => {
    expect(await heard([process.execPath, '-e', "process.exit(process.argv[1].endsWith('#t=x') ? 5 : 6)"])).toContain(
      'ended with 5',
    );
  });
});
