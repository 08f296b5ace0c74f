import { LRUCache } from 'lru-cache';
import type { Heights } from './samples.ts';

/** Decoded blocks kept by default, bytes (design: some 128 blocks of 512 × 512 in 32-bit floats, a long day of terrain many times over). */
export const DEFAULT_CACHE_BYTES = 128 * 1024 * 1024;

/**
 * Decoded blocks, least recently used out first, within a number of bytes.
 * A block that is being read is read once for all who ask; a failure is told to them and then forgotten.
 */
export class BlockCache {
  readonly #kept: LRUCache<string, Heights> | null;
  readonly #loading = new Map<string, Promise<Heights>>();

  /** @param maxBytes 0 keeps nothing, but blocks being read are still shared. */
  constructor(maxBytes: number = DEFAULT_CACHE_BYTES) {
    if (!(maxBytes >= 0)) throw new RangeError(`cache size ${maxBytes} is not a number of bytes`);
    const whole = Math.floor(Math.min(maxBytes, Number.MAX_SAFE_INTEGER));
    this.#kept =
      whole === 0
        ? null
        : new LRUCache({ maxSize: whole, sizeCalculation: (block) => Math.max(1, block.byteLength) });
  }

  /** The block if it is at hand, else `null`. */
  ready(key: string): Heights | null {
    return this.#kept?.get(key) ?? null;
  }

  /** The block, read with `load` unless it is at hand or being read already. */
  get(key: string, load: () => Promise<Heights>): Promise<Heights> {
    const kept = this.ready(key);
    if (kept !== null) return Promise.resolve(kept);
    const running = this.#loading.get(key);
    if (running !== undefined) return running;
    const reading = load()
      .then((block) => {
        if (this.#loading.get(key) === reading) this.#kept?.set(key, block);
        return block;
      })
      .finally(() => {
        if (this.#loading.get(key) === reading) this.#loading.delete(key);
      });
    this.#loading.set(key, reading);
    return reading;
  }

  get bytes(): number {
    return this.#kept?.calculatedSize ?? 0;
  }

  /** Forgets every block; what is being read is answered but not kept. */
  clear(): void {
    this.#kept?.clear();
    this.#loading.clear();
  }
}
