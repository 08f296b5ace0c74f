import type { Design } from '../design.ts';

/** What takes time beside the walking: stops, and ground on which hands are needed. */
export interface ExtraTime {
  /** Standing minutes per moving hour, meals aside. */
  readonly stopsMinPerHour: number;
  /** How those of one day differ from that, as a standard deviation: days differ, and the mean itself is in doubt. */
  readonly stopsSpreadMinPerHour: number;
  /** A metre on which hands are needed takes longer by so many minutes, whatever the pace on a trail; its relative doubt. */
  readonly rock: { readonly minPerM: number; readonly doubt: number };
}

/** What a metre with hands takes a party: on such ground people go one after another. */
export function rockOf(people: number, { pace: { rock } }: Pick<Design, 'pace'>): ExtraTime['rock'] {
  return { minPerM: rock.minPerM + rock.minPerMEach * Math.max(0, people - 1), doubt: rock.doubt };
}

/** Adds so many metres with hands to a moving time, in place. */
export function addRock(
  moving: { meanMin: number; scaleMin: number },
  rockM: number,
  { rock }: Pick<ExtraTime, 'rock'>,
): void {
  if (!(rockM > 0)) return;
  const moreMin = rockM * rock.minPerM;
  moving.meanMin += moreMin;
  moving.scaleMin = Math.hypot(moving.scaleMin, rock.doubt * moreMin);
}

/** Adds the stops of so long a walk, with their own doubt, in place; a meal of so many minutes is as long as it is. */
export function addStops(
  walk: { meanMin: number; scaleMin: number },
  { stopsMinPerHour, stopsSpreadMinPerHour }: Omit<ExtraTime, 'rock'>,
  mealMin: number,
): void {
  const stretch = 1 + stopsMinPerHour / 60;
  walk.scaleMin = Math.hypot(walk.scaleMin * stretch, (walk.meanMin * stopsSpreadMinPerHour) / 60);
  walk.meanMin = walk.meanMin * stretch + mealMin;
}
