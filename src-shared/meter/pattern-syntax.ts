import { anything, classes, everythingBut, only, type CharSet } from './char-set.ts';

/** A pattern as a tree. */
export type PatternNode =
  | { readonly kind: 'set'; readonly set: CharSet }
  | { readonly kind: 'start' }
  | { readonly kind: 'end' }
  | { readonly kind: 'sequence'; readonly parts: readonly PatternNode[] }
  | { readonly kind: 'choice'; readonly parts: readonly PatternNode[] }
  | { readonly kind: 'group'; readonly name: string; readonly of: PatternNode }
  | {
      readonly kind: 'repeat';
      readonly of: PatternNode;
      readonly least: number;
      readonly most: number;
      readonly isGreedy: boolean;
    };

/** What a pattern may not have, in words for the person; the place is added. */
export const patternRefusals = {
  unfinished: 'The pattern ends too early: a bracket or a backslash is open.',
  'stray-bracket': 'There is a closing bracket without its opening one.',
  'nothing-to-repeat': 'There is nothing to repeat before this sign.',
  'repeat-of-nothing': 'What is repeated here could be empty. Let it match at least one character.',
  'too-many-repeats': 'A repeat is from 0 to 99, the smaller number first.',
  'look-around': 'Looking ahead or behind is not supported. Describe the whole line from left to right.',
  'back-reference': 'A reference to an earlier group is not supported.',
  'bad-group': 'A group is (?<name>...) or (?:...); a name has letters and digits.',
  'same-name': 'This group name is used twice.',
  'bad-class': 'The characters in [ ] are not a list that is understood.',
  'unknown-escape': 'This backslash is not known. Known are \\d \\D \\w \\W \\s \\S \\t and signs such as \\. or \\+.',
  'too-long': 'The pattern is too long.',
  'no-value': 'The pattern needs a group named value: (?<value>...).',
  'unknown-name':
    'Group names are value, unit, prefix, coupling, overload and label, with a number behind for several values.',
} as const satisfies Record<string, string>;
export type PatternRefusal = keyof typeof patternRefusals;

export type ParsedPattern =
  | { readonly ok: true; readonly node: PatternNode; readonly names: readonly string[] }
  | { readonly ok: false; readonly why: PatternRefusal; readonly at: number };

class Refused extends Error {
  readonly why: PatternRefusal;
  readonly at: number;
  constructor(why: PatternRefusal, at: number) {
    super(why);
    this.why = why;
    this.at = at;
  }
}

const mostRepeats = 99;
const longestPattern = 300;

/** True when the node can match without taking a character. */
function canBeEmpty(node: PatternNode): boolean {
  switch (node.kind) {
    case 'set':
      return false;
    case 'start':
    case 'end':
      return true;
    case 'sequence':
      return node.parts.every(canBeEmpty);
    case 'choice':
      return node.parts.some(canBeEmpty);
    case 'group':
      return canBeEmpty(node.of);
    case 'repeat':
      return node.least === 0 || canBeEmpty(node.of);
  }
}

/** Reads the pattern from left to right; every step of the recursion takes at least one character of it. */
class Reader {
  readonly names: string[] = [];
  readonly #text: string;
  #at = 0;

  constructor(text: string) {
    this.#text = text;
  }

  whole(): PatternNode {
    const node = this.#choice();
    if (this.#at < this.#text.length) throw new Refused('stray-bracket', this.#at);
    return node;
  }

  #peek(): string {
    return this.#text[this.#at] ?? '';
  }

  #take(): string {
    const char = this.#text[this.#at];
    if (char === undefined) throw new Refused('unfinished', this.#text.length);
    this.#at += 1;
    return char;
  }

  #choice(): PatternNode {
    const parts = [this.#sequence()];
    while (this.#peek() === '|') {
      this.#at += 1;
      parts.push(this.#sequence());
    }
    const [first, ...more] = parts;
    return first !== undefined && more.length === 0 ? first : { kind: 'choice', parts };
  }

  #sequence(): PatternNode {
    const parts: PatternNode[] = [];
    while (this.#peek() !== '' && this.#peek() !== '|' && this.#peek() !== ')') parts.push(this.#repeated());
    return { kind: 'sequence', parts };
  }

  #repeated(): PatternNode {
    const from = this.#at;
    const node = this.#atom();
    const bounds = this.#bounds();
    if (bounds === undefined) return node;
    if (node.kind === 'start' || node.kind === 'end') throw new Refused('nothing-to-repeat', from);
    if (canBeEmpty(node)) throw new Refused('repeat-of-nothing', from);
    const isGreedy = this.#peek() !== '?';
    if (!isGreedy) this.#at += 1;
    if ('*+?{'.includes(this.#peek()) && this.#peek() !== '') throw new Refused('nothing-to-repeat', this.#at);
    return { kind: 'repeat', of: node, ...bounds, isGreedy };
  }

  #bounds(): { least: number; most: number } | undefined {
    const simple = { '*': [0, Infinity], '+': [1, Infinity], '?': [0, 1] } as const;
    const sign = this.#peek();
    if (sign === '*' || sign === '+' || sign === '?') {
      this.#at += 1;
      return { least: simple[sign][0], most: simple[sign][1] };
    }
    if (sign !== '{') return undefined;
    const found = /^\{(\d{1,3})(,(\d{0,3}))?\}/.exec(this.#text.slice(this.#at));
    if (found === null) throw new Refused('too-many-repeats', this.#at);
    const least = Number(found[1]);
    const most = found[2] === undefined ? least : found[3] === '' ? Infinity : Number(found[3]);
    const isBad = least > mostRepeats || (most !== Infinity && most > mostRepeats) || most < least || most === 0;
    if (isBad) throw new Refused('too-many-repeats', this.#at);
    this.#at += found[0].length;
    return { least, most };
  }

  #atom(): PatternNode {
    const at = this.#at;
    const char = this.#take();
    switch (char) {
      case '^':
        return { kind: 'start' };
      case '$':
        return { kind: 'end' };
      case '.':
        return { kind: 'set', set: anything };
      case '(':
        return this.#group(at);
      case '[':
        return { kind: 'set', set: this.#class(at) };
      case '\\':
        return { kind: 'set', set: this.#escape() };
      case '*':
      case '+':
      case '?':
      case '{':
        throw new Refused('nothing-to-repeat', at);
      default:
        return { kind: 'set', set: only(char) };
    }
  }

  #group(at: number): PatternNode {
    const rest = this.#text.slice(this.#at);
    if (/^\?(?:[=!]|<[=!])/.test(rest)) throw new Refused('look-around', at);
    const named = /^\?<([A-Za-z][A-Za-z0-9]{0,19})>/.exec(rest);
    const plain = /^\?:/.exec(rest);
    if (rest.startsWith('?') && named === null && plain === null) throw new Refused('bad-group', at);
    this.#at += (named ?? plain)?.[0].length ?? 0;
    const name = named?.[1];
    if (name !== undefined && this.names.includes(name)) throw new Refused('same-name', at);
    if (name !== undefined) this.names.push(name);
    const node = this.#choice();
    if (this.#take() !== ')') throw new Refused('unfinished', at);
    return name === undefined ? node : { kind: 'group', name, of: node };
  }

  #escape(): CharSet {
    const at = this.#at;
    const char = this.#take();
    const known = classes[char];
    if (known !== undefined) return known;
    if (char === 't') return only('\t');
    if (/[1-9k]/.test(char)) throw new Refused('back-reference', at);
    if (/[A-Za-z0-9]/.test(char)) throw new Refused('unknown-escape', at);
    return only(char);
  }

  /** One end of a range, or a whole class, inside brackets. */
  #member(): CharSet {
    return this.#peek() === '\\' ? (this.#take(), this.#escape()) : only(this.#take());
  }

  #class(at: number): CharSet {
    const ranges: (readonly [number, number])[] = [];
    const isNegated = this.#peek() === '^';
    if (isNegated) this.#at += 1;
    while (this.#peek() !== ']') {
      const one = this.#member();
      const isRange = this.#peek() === '-' && (this.#text[this.#at + 1] ?? ']') !== ']';
      if (!isRange) {
        ranges.push(...(one.isNegated ? everythingBut(one.ranges) : one.ranges));
        continue;
      }
      this.#at += 1;
      const [from, ...more] = one.ranges;
      const [to, ...most] = this.#member().ranges;
      const isBad = from === undefined || to === undefined || more.length > 0 || most.length > 0;
      if (isBad || from[0] !== from[1] || to[0] !== to[1] || to[0] < from[0]) throw new Refused('bad-class', at);
      ranges.push([from[0], to[0]]);
    }
    this.#at += 1;
    if (ranges.length === 0) throw new Refused('bad-class', at);
    return { ranges, isNegated };
  }
}

/**
 * Reads a person's pattern: characters, classes, groups, choices, repeats and the two ends of the line, written as in
 * the pattern languages of most programs. What could not be matched in one pass over a line is refused.
 */
export function parsePattern(text: string): ParsedPattern {
  if (text.length > longestPattern) return { ok: false, why: 'too-long', at: longestPattern };
  const reader = new Reader(text);
  try {
    return { ok: true, node: reader.whole(), names: reader.names };
  } catch (thrown) {
    if (thrown instanceof Refused) return { ok: false, why: thrown.why, at: thrown.at };
    throw thrown;
  }
}
