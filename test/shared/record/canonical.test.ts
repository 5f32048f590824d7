import fc from 'fast-check';
import { expect, test } from 'vitest';
import { canonicalJson } from '../../../src-shared/record/canonical.ts';

fc.configureGlobal({ seed: 20_310_314 });

test('equal values give equal text, whatever the order of their keys', () => {
  expect(canonicalJson({ b: [1, { d: null, c: 'é' }], a: true })).toBe('{"a":true,"b":[1,{"c":"é","d":null}]}');
  expect(canonicalJson({ a: true, b: [1, { c: 'é', d: null }] })).toBe(
    canonicalJson({ b: [1, { d: null, c: 'é' }], a: true }),
  );
});

test('reads back as the value it was made of', () => {
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      const text = canonicalJson(value);
      expect(JSON.parse(text ?? '')).toEqual(JSON.parse(JSON.stringify(value)));
    }),
  );
});

test('leaves out keys without a value', () => {
  expect(canonicalJson({ a: undefined, b: 1 })).toBe('{"b":1}');
});

// JSON has no NaN or Infinity: RFC 8259, section 6.
test.each([NaN, Infinity, -Infinity, 10n, Symbol('x'), () => 1, undefined])('refuses %s, also deep inside', (value) => {
  expect(canonicalJson(value)).toBeNull();
  expect(canonicalJson([value])).toBeNull();
  if (value !== undefined) expect(canonicalJson({ a: { b: [value] } })).toBeNull();
});
