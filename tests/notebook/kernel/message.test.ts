import { createHmac } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { decodeMessage, encodeMessage, request } from '../../../src/notebook/kernel/message.js';

const bytes = (frames: readonly string[]) => frames.map((frame) => Buffer.from(frame));

describe('a message of the Jupyter protocol', () => {
  it('comes back from its frames, also behind a routing prefix', () => {
    const message = request('execute_request', { code: '"µg/g"' });
    const frames = encodeMessage(message, 'session', 'key');
    expect(decodeMessage(bytes(frames), 'key')).toEqual(message);
    expect(decodeMessage(bytes(['route', ...frames]), 'key')).toEqual(message);
  });

  it('is signed over header, parent, metadata and content (protocol 5.3, the wire protocol)', () => {
    const [delimiter, signature, ...parts] = encodeMessage(request('shutdown_request'), 'session', 'key');
    expect(delimiter).toBe('<IDS|MSG>');
    expect(parts).toHaveLength(4);
    expect(signature).toBe(createHmac('sha256', 'key').update(parts.join('')).digest('hex'));
  });

  it('is refused when another key has signed it, or nothing has', () => {
    const frames = encodeMessage(request('execute_request'), 'session', 'other');
    expect(() => decodeMessage(bytes(frames), 'key')).toThrow('not signed with the key of this run');
    expect(() => decodeMessage(bytes(frames.slice(2)), 'other')).toThrow('not signed');
    expect(() => decodeMessage([], 'key')).toThrow('not signed');
  });
});
