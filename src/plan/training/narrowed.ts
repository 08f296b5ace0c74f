/**
 * Where between two numbers something begins to hold, by so many halvings: the last number known to do.
 *
 * @param fails a number at which it does not hold; @param holds one at which it does
 */
export function narrowed(
  fails: number,
  holds: number,
  halvings: number,
  isHeld: (value: number) => boolean,
): number {
  let [bad, good] = [fails, holds];
  for (let i = 0; i < halvings; i += 1) {
    const middle = (bad + good) / 2;
    if (isHeld(middle)) good = middle;
    else bad = middle;
  }
  return good;
}
