import type { Design } from '../design.ts';
import { daysBetween } from '../earth/local-time.ts';
import { demonstrated, type Goers, labelsOf } from './demonstrated.ts';
import type { Outing } from './outing.ts';

type Quantity = 'distanceM' | 'gainM' | 'effortKj' | 'rockClass';

/**
 * Who limits what the group has shown. FOR LEADERS ALONE: never in a shortlist, on a print or for other readers.
 */
export interface Limit {
  readonly quantity: Quantity;
  readonly labels: readonly string[];
  /** Whether they have shown nothing of it, rather than least. */
  readonly hasNone: boolean;
}

/** Members within this share above the least limit a quantity together (design). */
const NEAR = 1.02;

/** Which labels limit a quantity on a date: those who have shown nothing of it, else those who have shown least. */
export function whoLimits(
  outings: readonly Outing[],
  goers: Goers,
  date: string,
  design: Design,
): readonly Limit[] {
  const labels = labelsOf(goers);
  if (labels === null || labels.length < 2) return [];
  const past = outings.filter((outing) => daysBetween(outing.date, date) >= 0);
  const alone = labels.map((label) => ({
    label,
    shown: demonstrated(past, { ...goers, going: [label] }, date, design),
  }));
  const limits: Limit[] = [];
  for (const quantity of ['distanceM', 'gainM', 'effortKj', 'rockClass'] as const) {
    const values = alone.map(({ label, shown }) => ({ label, value: shown[quantity]?.value ?? null }));
    const without = values.filter(({ value }) => value === null).map(({ label }) => label);
    if (without.length > 0 && without.length < labels.length) {
      limits.push({ quantity, labels: without, hasNone: true });
      continue;
    }
    const known = values.flatMap(({ label, value }) => (value === null ? [] : [{ label, value }]));
    if (known.length < 2) continue;
    const least = Math.min(...known.map(({ value }) => value));
    const most = Math.max(...known.map(({ value }) => value));
    const lowest = known.filter(({ value }) => value <= NEAR * least).map(({ label }) => label);
    if (lowest.length === known.length || most <= NEAR * least) continue;
    limits.push({ quantity, labels: lowest, hasNone: false });
  }
  return limits;
}
