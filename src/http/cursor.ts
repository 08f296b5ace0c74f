import { createHmac, timingSafeEqual } from 'node:crypto';
import { EngineError } from '../errors.ts';

/** Where a page ends: the creation time and id of its last row, or the rank of its last entry. */
type Place = readonly (string | number)[];

/** 128 bits of the signature are enough against guessing. */
const SIGNATURE_BYTES = 16;

/** Signed places in lists. `scope` is the list and everything asked of it: a cursor works for no other. */
export function cursors(secret: Uint8Array) {
  const sign = (scope: string, text: string): Buffer =>
    createHmac('sha256', secret)
      .update(JSON.stringify([scope, text]))
      .digest()
      .subarray(0, SIGNATURE_BYTES);
  return {
    seal(scope: string, place: Place): string {
      const text = Buffer.from(JSON.stringify(place)).toString('base64url');
      return `${text}.${sign(scope, text).toString('base64url')}`;
    },
    /** @throws EngineError `bad-request` on a cursor that was changed or belongs to another list. */
    open(scope: string, cursor: string): Place {
      const [text = '', signature = ''] = cursor.split('.');
      const given = Buffer.from(signature, 'base64url');
      const wanted = sign(scope, text);
      if (given.length !== wanted.length || !timingSafeEqual(given, wanted)) {
        const reason = 'the cursor does not belong to this list: follow the Link of its last page';
        throw new EngineError('bad-request', reason, { pointer: '?cursor' });
      }
      return JSON.parse(Buffer.from(text, 'base64url').toString()) as Place;
    },
  };
}

export type Cursors = ReturnType<typeof cursors>;
