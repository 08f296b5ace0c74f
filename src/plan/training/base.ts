import { demonstrated, type Goers, type Shown } from '../../capability/demonstrated.ts';
import type { Outing } from '../../capability/outing.ts';
import type { Design } from '../../design.ts';
import { addDays } from '../../earth/local-time.ts';
import type { Quantity } from './target.ts';

/** What is left, on a later day, of what everyone who goes has shown up to today. */
export interface BaseAmount {
  readonly value: number;
  /** Whether at least half is left: older than that says little of where people stand. */
  readonly isRecent: boolean;
}

/** `null`: somebody who goes has nothing of it left. */
type Base = Readonly<Record<Quantity, BaseAmount | null>>;

/** What is left so many days after today. */
export type BaseOn = (day: number) => Base;

function amount(shown: Shown | null): BaseAmount | null {
  if (shown === null) return null;
  // The half is that of capability/milestones.ts.
  return { value: shown.value, isRecent: shown.value > 0.5 * shown.asWalked };
}

/**
 * What is left of the record on each day from `today`. The climb is the one measured, without the doubt that it may
 * share with a route: the cautious reading for a step.
 */
export function baseFrom(outings: readonly Outing[], goers: Goers, today: string, design: Design): BaseOn {
  const known = new Map<number, Base>();
  return (day) => {
    const found = known.get(day);
    if (found !== undefined) return found;
    const shown = demonstrated(outings, goers, addDays(today, day), design);
    const base = {
      distanceM: amount(shown.distanceM),
      gainM: amount(shown.gainM),
      effortKj: amount(shown.effortKj),
    };
    known.set(day, base);
    return base;
  };
}

/** Longer than any record. */
const NEVER_DAYS = 1e6;

/**
 * The most work that everyone who goes has done in a day, however long ago, kJ for one person: as demonstrated, nothing
 * taken away by time. `null`: somebody has done none.
 */
export function everWorkKj(
  outings: readonly Outing[],
  goers: Goers,
  today: string,
  design: Design,
): number | null {
  const detraining = {
    ...design.detraining,
    lossMax: 0,
    windowDaysMinor: NEVER_DAYS,
    windowDaysAdult: NEVER_DAYS,
  };
  return demonstrated(outings, goers, today, { ...design, detraining }).effortKj?.asWalked ?? null;
}
