import { describe, expect, it } from 'vitest';
import { contractPath, freshToken, isOwnHost, judgeUpgrade } from '../../../src-main/host/door.ts';

const port = 4711;
const token = freshToken();
const right = {
  Host: '127.0.0.1:4711',
  Origin: 'http://127.0.0.1:4711',
  'Sec-WebSocket-Protocol': `turnwright.1, token.${token}`,
};

/** The verdict on a request like the right one but for the given headers; null leaves one out. */
function judged(changes: Readonly<Record<string, string | readonly string[] | null>>, url = contractPath) {
  const rawHeaders = Object.entries({ ...right, ...changes }).flatMap(([name, value]) =>
    value === null ? [] : [value].flat().flatMap((each) => [name, each]),
  );
  const verdict = judgeUpgrade({ url, rawHeaders }, { port, token });
  return verdict.admitted ? 101 : verdict.status;
}

describe('the door', () => {
  it('makes another token of 256 bits every time', () => {
    const tokens = Array.from({ length: 100 }, freshToken);
    expect(new Set(tokens).size).toBe(100);
    for (const each of tokens) expect(Buffer.from(each, 'base64url')).toHaveLength(32);
  });

  it('admits our own page with the token', () => {
    expect(judged({})).toBe(101);
    expect(judged({ 'Sec-WebSocket-Protocol': `turnwright.1,token.${token}` })).toBe(101);
  });

  it.each([
    null,
    '',
    'turnwright.1',
    'turnwright.1, token.',
    `token.${token}`,
    `turnwright.1, ${token}`,
    `turnwright.2, token.${token}`,
    `turnwright.1, token.${token}x`,
    `turnwright.1, token.${token.slice(0, -1)}`,
    `turnwright.1, token.${token.slice(0, 8)}`,
    `turnwright.1, token.${freshToken()}`,
    `turnwright.1, token.${token}, more`,
    `token.${token}, turnwright.1`,
    `turnwright.1, Token.${token}`,
    ['turnwright.1', `token.${token}`],
    [`turnwright.1, token.${token}`, `turnwright.1, token.${token}`],
  ])('asks who shows %j for a token', (value) => {
    expect(judged({ 'Sec-WebSocket-Protocol': value })).toBe(401);
  });

  it.each([
    null,
    '',
    'null',
    'http://127.0.0.1',
    'http://127.0.0.1:4712',
    'https://127.0.0.1:4711',
    'http://localhost:4711',
    'http://[::1]:4711',
    'http://127.0.0.1:4711/',
    'http://127.0.0.1:4711.example',
    'http://user@127.0.0.1:4711',
    'HTTP://127.0.0.1:4711',
    'file://',
    ['http://127.0.0.1:4711', 'http://127.0.0.1:4711'],
    ['http://127.0.0.1:4711', 'http://example.invalid'],
  ])('turns away the origin %j, token or not', (value) => {
    expect(judged({ Origin: value })).toBe(403);
  });

  it.each([
    null,
    '',
    '127.0.0.1',
    '127.0.0.1:4712',
    'localhost:4711',
    '[::1]:4711',
    '0.0.0.0:4711',
    '127.1:4711',
    '2130706433:4711',
    '127.0.0.1.:4711',
    '127.0.0.1:04711',
    'rebound.invalid:4711',
    ['127.0.0.1:4711', '127.0.0.1:4711'],
    ['127.0.0.1:4711', 'rebound.invalid'],
  ])('turns away the host %j, token or not', (value) => {
    expect(judged({ Host: value })).toBe(403);
  });

  it.each(['/', '/contract/', '/Contract', '/contract?', `/contract?token=${token}`, '//contract', '/%63ontract', ''])(
    'has nothing at %j',
    (url) => {
      expect(judged({}, url)).toBe(404);
      expect(judged({ 'Sec-WebSocket-Protocol': 'turnwright.1' }, url)).toBe(401);
    },
  );

  it('reads header names in any case', () => {
    expect(isOwnHost({ url: '/', rawHeaders: ['hOsT', '127.0.0.1:4711'] }, port)).toBe(true);
  });
});
