import TinyQueue from 'tinyqueue';
import { at } from '../array.ts';

/** Whether the way from one station to a later one, up or down, is a leg of its own and no wiggle. */
export type Counts = (from: number, to: number) => boolean;

interface Leg {
  readonly from: number;
  readonly to: number;
  readonly heightM: number;
}

/**
 * Indexes of a profile's turning points: first, last, and the highs and lows between which each leg counts. Of all
 * highs and lows the pair that differs least, and does not count, is taken out until every leg counts: its height
 * goes to the leg around it, so a leg counts with its full height. Reversing the profile reverses the result but for
 * ties. Takes n log n steps.
 *
 * @param heightsM heights in metres, none missing
 * @example turningPoints([100, 103, 101, 110], (from, to) => Math.abs(h[to] - h[from]) >= 5) // [0, 3]
 */
export function turningPoints(heightsM: readonly number[], counts: Counts): number[] {
  const last = heightsM.length - 1;
  const height = (i: number): number => at(heightsM, i);
  // The stations still in question as a chain; who has left it has no next one.
  const next = heightsM.map((_, i) => i + 1);
  const before = heightsM.map((_, i) => i - 1);
  const after = (i: number): number => at(next, i);
  const ahead = (i: number): number => at(before, i);
  const isEnd = (i: number): boolean => i === 0 || i === last;
  const leave = (i: number): void => {
    next[ahead(i)] = after(i);
    before[after(i)] = ahead(i);
    next[i] = -1;
  };
  const straighten = (i: number): void => {
    if (isEnd(i)) return;
    const isTurn = Math.sign(height(i) - height(ahead(i))) * Math.sign(height(after(i)) - height(i)) < 0;
    if (!isTurn) leave(i);
  };
  for (let i = last - 1; i > 0; i -= 1) straighten(i);

  const chain = (): number[] => {
    const turns: number[] = [];
    for (let i = 0; i <= last; i = after(i)) turns.push(i);
    return turns;
  };
  const leg = (from: number): Leg => ({
    from,
    to: after(from),
    heightM: Math.abs(height(after(from)) - height(from)),
  });
  const queue = new TinyQueue<Leg>(
    chain().slice(0, -1).map(leg),
    (a, b) => a.heightM - b.heightM || a.from - b.from,
  );
  for (let least = queue.pop(); least !== undefined; least = queue.pop()) {
    const { from, to } = least;
    if (after(from) !== to || counts(from, to)) continue;
    const start = isEnd(from) ? from : ahead(from);
    const end = isEnd(to) ? to : after(to);
    if (start === from && end === to) break;
    if (!isEnd(from)) leave(from);
    if (!isEnd(to)) leave(to);
    straighten(end);
    const outer = ahead(start);
    straighten(start);
    queue.push(leg(after(start) < 0 ? outer : start));
  }
  return chain();
}
