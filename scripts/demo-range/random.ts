import { type RandomStream, streamOf } from '../../src/sampling/random.ts';

/** A stream of seeded random numbers; the same seed and name give the same stream everywhere. */
export type Random = Pick<RandomStream, 'uniform' | 'normal'>;

/**
 * The stream that belongs to `name` under `seed`.
 * Every part draws from its own stream, so a route added to the table leaves the others as they were.
 */
export const randomStream: (seed: number, name: string) => Random = streamOf;
