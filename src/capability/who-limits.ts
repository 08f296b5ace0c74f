import type { Design } from '../design.ts';
import { daysBetween } from '../earth/local-time.ts';
import { demonstrated, type Goers, labelsOf } from './demonstrated.ts';
import type { Outing } from './outing.ts';

type Quantity = 'distanceM' | 'gainM' | 'effortKj' | 'rockClass';

/**
 * Who limits what the group has shown. FOR LEADERS ALONE: never in a shortlist, on a print or for other readers. Worded
 * as help.
 */
export interface Limit {
  readonly quantity: Quantity;
  readonly labels: readonly string[];
  readonly text: string;
}

/** Members within this share above the least limit a quantity together (design). */
const NEAR = 1.02;

const DAY: Record<Quantity, string> = {
  distanceM: 'long day',
  gainM: 'big climb',
  effortKj: 'full day',
  rockClass: 'day on rock',
};

function names(labels: readonly string[]): string {
  if (labels.length < 2) return labels.join('');
  return `${labels.slice(0, -1).join(', ')} and ${labels.at(-1)}`;
}

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
      const have = without.length === 1 ? 'has' : 'have';
      limits.push({ quantity, labels: without, text: `${names(without)} ${have} no ${DAY[quantity]} yet` });
      continue;
    }
    const known = values.flatMap(({ label, value }) => (value === null ? [] : [{ label, value }]));
    if (known.length < 2) continue;
    const least = Math.min(...known.map(({ value }) => value));
    const most = Math.max(...known.map(({ value }) => value));
    const at = known.filter(({ value }) => value <= NEAR * least).map(({ label }) => label);
    if (at.length === known.length || most <= NEAR * least) continue;
    limits.push({
      quantity,
      labels: at,
      text: `a ${DAY[quantity]} with ${names(at)} would raise what the whole group has shown`,
    });
  }
  return limits;
}
