import { createHmac, randomUUID, timingSafeEqual } from 'node:crypto';
import { MeltbookError } from '../../errors.js';

/** A message of the Jupyter protocol, as far as the runner reads it. */
export interface Message {
  readonly type: string;
  readonly id: string;
  /** Identifier of the request that this message answers, empty where there is none. */
  readonly parent: string;
  readonly content: Readonly<Record<string, unknown>>;
}

const delimiter = '<IDS|MSG>';

/**
 * Frames of a message to a kernel.
 *
 * @param key signs the message (HMAC-SHA256)
 * @see Jupyter messaging protocol 5.3, "The wire protocol"
 */
export function encodeMessage(message: Message, session: string, key: string): readonly string[] {
  const header = {
    msg_id: message.id,
    msg_type: message.type,
    session,
    username: 'meltbook',
    date: new Date().toISOString(),
    version: '5.3',
  };
  const parts = [JSON.stringify(header), '{}', '{}', JSON.stringify(message.content)];
  return [delimiter, signature(parts, key), ...parts];
}

/**
 * The message in frames from a kernel.
 *
 * @throws MeltbookError no delimiter, or a signature that does not fit the key
 */
export function decodeMessage(frames: readonly Uint8Array[], key: string): Message {
  const texts = frames.map((frame) => Buffer.from(frame).toString('utf8'));
  const start = texts.indexOf(delimiter);
  const parts = texts.slice(start + 2, start + 6);
  const found = texts[start + 1] ?? '';
  const expected = signature(parts, key);
  if (
    start < 0 ||
    found.length !== expected.length ||
    !timingSafeEqual(Buffer.from(found), Buffer.from(expected))
  ) {
    throw new MeltbookError('a message from the kernel is not signed with the key of this run', 4);
  }
  const [header, parent, , content] = parts.map((part) => JSON.parse(part) as Record<string, unknown>);
  return {
    type: String(header!.msg_type),
    id: String(header!.msg_id),
    parent: String(parent!.msg_id ?? ''),
    content: content!,
  };
}

/** A request with an identifier of its own. */
export function request(type: string, content: Message['content'] = {}): Message {
  return { type, id: randomUUID(), parent: '', content };
}

function signature(parts: readonly string[], key: string): string {
  const hmac = createHmac('sha256', key);
  for (const part of parts) hmac.update(part);
  return hmac.digest('hex');
}
