import { beforeEach, describe, expect, it } from 'vitest';
import { Conversation, type ConversationOptions } from '../../../src-main/meter/conversation.ts';
import type { Ask } from '../../../src-shared/meter/description.ts';
import { fakeClock } from './fake-clock.ts';

const talk: Ask = { mode: 'ask', query: 'READ?', intervalMs: 1000, timeoutMs: 400, opening: [], lineEnd: 'lf' };
const settled = () => new Promise((resolve) => setImmediate(resolve));

describe('a conversation with a meter', () => {
  let clock = fakeClock();
  let said: string[] = [];
  beforeEach(() => {
    clock = fakeClock();
    said = [];
  });

  const begin = (more: Partial<Ask> = {}, options: Partial<ConversationOptions> = {}) => {
    const conversation = new Conversation({
      talk: { ...talk, ...more },
      clock,
      send: (text) => {
        said.push(`> ${JSON.stringify(text).slice(1, -1)}`);
        return Promise.resolve();
      },
      onReply: (text) => said.push(`reply ${text}`),
      onAnswer: (to, text) => said.push(`answer to ${to}: ${text}`),
      onUnasked: (text) => said.push(`unasked ${text}`),
      ...options,
    });
    conversation.begin();
    return conversation;
  };

  it('asks once an interval, however soon the answer comes', () => {
    const conversation = begin();
    conversation.hear('1');
    clock.advance(999);
    expect(said).toEqual(['> READ?\\n', 'reply 1']);
    clock.advance(1);
    expect(said.at(-1)).toBe('> READ?\\n');
  });

  it('waits for an answer longer than the interval, then asks at once', () => {
    const conversation = begin({ intervalMs: 100 });
    clock.advance(300);
    expect(said).toHaveLength(1);
    conversation.hear('1');
    clock.advance(0);
    expect(said).toEqual(['> READ?\\n', 'reply 1', '> READ?\\n']);
  });

  it('gives up an answer after its timeout and asks again', () => {
    begin();
    clock.advance(1000);
    expect(said).toEqual(['> READ?\\n', '> READ?\\n']);
  });

  it('takes the first line only, and neither an echo nor anything unasked', () => {
    const conversation = begin();
    conversation.hear('READ?');
    conversation.hear('1');
    conversation.hear('2');
    expect(said).toEqual(['> READ?\\n', 'unasked READ?', 'reply 1', 'unasked 2']);
  });

  it('sends the opening commands in order, waiting for those that ask', async () => {
    const conversation = begin({ opening: ['*RST', '*IDN?', 'CONF'], lineEnd: 'cr' });
    await settled();
    clock.advance(99);
    expect(said).toEqual(['> *RST\\r']);
    clock.advance(1);
    expect(said).toEqual(['> *RST\\r', '> *IDN?\\r']);
    conversation.hear('INVENTED,1');
    clock.advance(0);
    await settled();
    clock.advance(100);
    expect(said.slice(2)).toEqual(['answer to *IDN?: INVENTED,1', '> CONF\\r', '> READ?\\r']);
  });

  it('goes on when an opening command is not answered', async () => {
    begin({ opening: ['*IDN?'] });
    clock.advance(400);
    await settled();
    expect(said).toEqual(['> *IDN?\\n', '> READ?\\n']);
  });

  it('ends when the port refuses, and when told to', async () => {
    begin({}, { send: () => Promise.reject(new Error('closed')) });
    await settled();
    expect(clock.waiting).toBe(0);
    const conversation = begin();
    conversation.end();
    clock.advance(10_000);
    conversation.hear('1');
    clock.advance(10_000);
    expect(said.filter((line) => line.startsWith('>'))).toHaveLength(1);
    expect(clock.waiting).toBe(0);
  });
});
