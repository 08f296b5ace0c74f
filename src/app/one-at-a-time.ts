import { EngineError } from '../errors.ts';

/**
 * Does long pieces of work one after another, so that many requests do not take all of the machine at once.
 *
 * @param mostWaiting one that would wait behind more is refused
 * @throws EngineError `unavailable`
 */
export function oneAtATime(mostWaiting: number) {
  let waiting = 0;
  let last: Promise<unknown> = Promise.resolve();
  return async <T>(work: () => Promise<T>): Promise<T> => {
    if (waiting > mostWaiting)
      throw new EngineError('unavailable', 'other boards are being worked out: ask again in a minute');
    waiting += 1;
    const mine = last.then(work, work);
    last = mine.catch(() => {});
    try {
      return await mine;
    } finally {
      waiting -= 1;
    }
  };
}
