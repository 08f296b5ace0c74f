import { at, greatestBy } from '../array.ts';

/**
 * The known name that a mistyped one most likely means, or `null`. Case, `_`, `-` and spaces do not
 * count; up to `differing` letters may differ, by default a third of them (design).
 */
export function nearestName(
  word: string,
  known: readonly string[],
  differing: number = Math.floor(Math.max(word.length, 3) / 3),
): string | null {
  if (word.length > 40) return null;
  const plain = word.toLowerCase().replace(/[_\- ]/g, '');
  const distances = known.map((name) => ({ name, distance: editDistance(plain, name.toLowerCase()) }));
  const best = greatestBy(distances, ({ distance }) => -distance);
  return best !== null && best.distance <= differing ? best.name : null;
}

/** Insertions, deletions and replacements between two short words (Wagner and Fischer 1974, from memory). */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const replaced = at(row, j - 1) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(replaced, at(row, j) + 1, at(next, j - 1) + 1));
    }
    row = next;
  }
  return at(row, b.length);
}
