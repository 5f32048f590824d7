import { describe, expect, it } from 'vitest';
import { folderIn, usualDataFolder } from '../../../src-main/host/data-folder.ts';
import { runtimeWarning } from '../../../src-main/host/runtime-warning.ts';
import { readStartOptions } from '../../../src-main/host/start-options.ts';

describe('start options', () => {
  it.each([
    [[], { opensBrowser: true, port: null, folder: null, isLocal: false }],
    [['--data', 'some where'], { opensBrowser: true, port: null, folder: 'some where', isLocal: false }],
    [['--local'], { opensBrowser: true, port: null, folder: null, isLocal: true }],
    [['--no-open'], { opensBrowser: false, port: null, folder: null, isLocal: true }],
    [['--no-open', '--local'], { opensBrowser: false, port: null, folder: null, isLocal: true }],
    [
      ['--local', '--port', '4700', '--data', 'some where'],
      { opensBrowser: true, port: 4700, folder: 'some where', isLocal: true },
    ],
    [['--port=0', '--data=/a=b'], { opensBrowser: true, port: 0, folder: '/a=b', isLocal: true }],
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

describe('the data folder on the command line of a desktop window', () => {
  it.each([
    [['turnwright'], null],
    [['turnwright', '--data', 'some where'], 'some where'],
    [['turnwright', '--no-sandbox', '--data=/a=b', '/a/file'], '/a=b'],
    [['turnwright', '--data'], null],
    [['turnwright', '--data='], null],
  ])('%j', (args, folder) => {
    expect(folderIn(args)).toBe(folder);
  });
});

describe('the runtime', () => {
  it('is warned of where serial data would be late, or the Node is too old', () => {
    expect(runtimeWarning({ node: '24.21.0' })).toBeNull();
    expect(runtimeWarning({ node: '25.1.0' })).toBeNull();
    expect(runtimeWarning({ node: '26.0.0' })).toContain('Use Node 24.');
    expect(runtimeWarning({ node: '20.20.2' })).toContain('made for Node 24');
  });

  it('is warned of in a desktop window by what it carries', () => {
    expect(runtimeWarning({ node: '24.21.0', electron: '45.5.0' })).toBeNull();
    expect(runtimeWarning({ node: '26.0.0', electron: '50.0.0' })).toBe(
      'This Electron carries Node 26.0.0: from 26 on, what a meter sends may arrive only when something else happens. ' +
        'Use the Electron that the program is made with.',
    );
  });
});
