import type { Design } from '../design.ts';
import type { UnitSystem } from '../units.ts';
import { beyondEssentials } from './kit-beyond.ts';
import { type KitItem, type KitQuestion, kitDay } from './kit-day.ts';
import { essentials } from './kit-essentials.ts';
import type { SummitCold } from './summit-cold.ts';

export interface Kit {
  /** In the order of the ten essentials, then what goes beyond them. */
  readonly items: readonly KitItem[];
  /** `null`: height not known. */
  readonly summit: SummitCold | null;
}

/**
 * The kit of a party for one day: what, why this day asks for it, who carries it and how many. Reasons are texts in
 * the units asked for; what is not known counts as the harder case. Fire, knife, first aid and medicines are with an
 * adult where minors go (or where the age is not stated); which medicines is the program's policy, never said here.
 * @throws RangeError on a party, time or month that is none.
 */
export function kit(question: KitQuestion, design: Design, units: UnitSystem): Kit {
  const day = kitDay(question, design, units);
  return { items: [...essentials(day), ...beyondEssentials(day)], summit: day.summit };
}

const WHO: Record<KitItem['who'], (count: number) => string> = {
  each: (count) => `each, ${count} in all`,
  group: (count) => `for the group, ${count}`,
  adult: (count) => `with an adult, ${count}`,
};

/** The kit as lines to tick off: `Whistle (each, 11 in all): …`. */
export const kitLines = ({ items }: Kit): string[] =>
  items.map(({ what, why, who, count }) => `${what} (${WHO[who](count)}): ${why}`);
