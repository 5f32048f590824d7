import { describe, expect, it } from 'vitest';
import { usualDataFolder } from '../../../src-main/host/data-folder.ts';
import { runtimeWarning } from '../../../src-main/host/runtime-warning.ts';
import { readStartOptions } from '../../../src-main/host/start-options.ts';

describe('start options', () => {
  it.each([
    [[], { opensBrowser: true, port: 0, folder: null }],
    [['--no-open'], { opensBrowser: false, port: 0, folder: null }],
    [['--local', '--port', '4700', '--data', 'some where'], { opensBrowser: true, port: 4700, folder: 'some where' }],
    [['--port=0', '--data=/a=b'], { opensBrowser: true, port: 0, folder: '/a=b' }],
  ])('reads %j', (args, value) => {
    expect(readStartOptions(args)).toEqual({ ok: true, value });
  });

  it.each([
    [
      ['--no-opne'],
      'There is no option --no-opne; nearest is --no-open. Known: --no-open, --port N, --data FOLDER, --local.',
    ],
    [['--dta', 'x'], 'nearest is --data'],
    [['4700'], 'There is no option 4700'],
    [['--port'], '--port needs a value: --port N.'],
    [['--data', '--no-open'], '--data needs a value: --data FOLDER.'],
    [['--data='], '--data needs a value'],
    [['--no-open=yes'], '--no-open takes no value.'],
    [['--port', '65536'], '--port must be a whole number from 0 to 65535; 65536 is not.'],
    [['--port', '-1'], 'must be a whole number'],
    [['--port', '0x50'], 'must be a whole number'],
    [['--port', '80.5'], 'must be a whole number'],
    [['__proto__'], 'There is no option __proto__'],
  ])('refuses %j', (args, sentence) => {
    const outcome = readStartOptions(args);
    expect(outcome).toMatchObject({ ok: false, failure: { code: 'bad-input' } });
    expect(outcome.ok ? '' : outcome.failure.message).toContain(sentence);
  });
});

describe('the usual data folder', () => {
  it.each([
    ['linux', {}, '/home/i', '/home/i/.local/share/turnwright'],
    ['linux', { XDG_DATA_HOME: '/data' }, '/home/i', '/data/turnwright'],
    ['linux', { XDG_DATA_HOME: 'data' }, '/home/i', '/home/i/.local/share/turnwright'],
    ['darwin', {}, '/Users/i', '/Users/i/Library/Application Support/Turnwright'],
    ['win32', { APPDATA: 'D:\\Roaming' }, 'C:\\Users\\i', 'D:\\Roaming\\Turnwright'],
    ['win32', {}, 'C:\\Users\\i', 'C:\\Users\\i\\AppData\\Roaming\\Turnwright'],
  ])('on %s with %j', (platform, env, home, folder) => {
    expect(usualDataFolder(platform, env, home)).toBe(folder);
  });
});

describe('the runtime', () => {
  it('is warned of where serial data would be late, or the Node is too old', () => {
    expect(runtimeWarning({ node: '24.21.0' })).toBeNull();
    expect(runtimeWarning({ node: '25.1.0' })).toBeNull();
    expect(runtimeWarning({ node: '26.0.0' })).toContain('Use Node 24.');
    expect(runtimeWarning({ node: '20.20.2' })).toContain('made for Node 24');
  });
});
