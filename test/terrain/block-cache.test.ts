import { describe, expect, it } from 'vitest';
import { BlockCache } from '../../src/terrain/block-cache.ts';

const block =
  (heights = 4) =>
  async () =>
    new Float64Array(heights);

describe('BlockCache', () => {
  it('reads a block once for all who ask while it is being read', async () => {
    const cache = new BlockCache();
    let reads = 0;
    const load = async () => {
      reads += 1;
      return new Float64Array(4);
    };
    const [a, b] = await Promise.all([cache.get('a', load), cache.get('a', load)]);
    expect(a).toBe(b);
    expect(await cache.get('a', load)).toBe(a);
    expect(reads).toBe(1);
  });

  it('does not keep a failure', async () => {
    const cache = new BlockCache();
    const failing = async () => {
      throw new Error('disk');
    };
    await expect(cache.get('a', failing)).rejects.toThrow('disk');
    expect(await cache.get('a', block())).toHaveLength(4);
  });

  it('tells a failure to all who asked, and then forgets it', async () => {
    const cache = new BlockCache();
    const failing = async () => {
      throw new Error('disk');
    };
    const both = await Promise.allSettled([cache.get('a', failing), cache.get('a', failing)]);
    expect(both.map(({ status }) => status)).toEqual(['rejected', 'rejected']);
    expect(cache.ready('a')).toBe(null);
  });

  it('stays within its bytes and drops what was used longest ago', async () => {
    const cache = new BlockCache(3 * 32);
    for (const key of ['a', 'b', 'c']) await cache.get(key, block());
    cache.ready('a');
    await cache.get('d', block());
    expect(cache.bytes).toBeLessThanOrEqual(96);
    expect(['a', 'b', 'c', 'd'].map((key) => cache.ready(key) !== null)).toEqual([true, false, true, true]);
  });

  it('answers without keeping when a block is larger than the cache, or the cache is 0', async () => {
    for (const bytes of [0, 16]) {
      const cache = new BlockCache(bytes);
      expect(await cache.get('a', block())).toHaveLength(4);
      expect(cache.ready('a')).toBe(null);
    }
  });

  it('forgets everything when cleared, also what was being read', async () => {
    const cache = new BlockCache();
    const reading = cache.get('a', block());
    cache.clear();
    expect(await reading).toHaveLength(4);
    expect(cache.ready('a')).toBe(null);
  });
});
