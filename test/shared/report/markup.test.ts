import fc from 'fast-check';
import { expect, test } from 'vitest';
import { escaped, markup } from '../../../src-shared/report/markup.ts';

fc.configureGlobal({ seed: 20_310_314 });

/** Undoes the five names, and nothing else. */
const read = (text: string): string =>
  text
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&');

test('any text put into markup closes no tag, no attribute and no name', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 60 }), (text) => {
      const inside = String(markup`<p title="${text}">${text}</p>`);
      expect(inside).toBe(`<p title="${escaped(text)}">${escaped(text)}</p>`);
      expect(escaped(text)).not.toMatch(/[<>"']|&(?!amp;|lt;|gt;|quot;|#39;)/);
      expect(escaped(text).isWellFormed()).toBe(true);
    }),
  );
});

test('text of printable characters comes back as it was', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), (text) => {
      expect(read(escaped(text))).toBe(text);
    }),
  );
});

test('markup in markup stands as it is, and nothing is nothing', () => {
  expect(String(markup`<ul>${['a&b', 'c'].map((text) => markup`<li>${text}</li>`)}</ul>${null}${1.5}`)).toBe(
    '<ul><li>a&amp;b</li><li>c</li></ul>1.5',
  );
});
