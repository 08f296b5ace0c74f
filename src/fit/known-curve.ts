import { LRUCache } from 'lru-cache';
import { ratioCurve } from './value.ts';

/** Curves kept, by their limit (design): a cohort has three at most, of age and of drive. */
const curves = new LRUCache<number, (ratio: number) => number>({ max: 100 });

/** `ratioCurve` for judging one route after another by the same limit. */
export function knownRatioCurve(limit: number): (ratio: number) => number {
  const known = curves.get(limit);
  if (known !== undefined) return known;
  const curve = ratioCurve(limit);
  curves.set(limit, curve);
  return curve;
}
