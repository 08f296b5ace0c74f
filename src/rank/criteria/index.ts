import type { Criterion } from '../criterion.ts';
import { aim } from './aim.ts';
import { altitude } from './altitude.ts';
import { daylight } from './daylight.ts';
import { distance } from './distance.ts';
import { drive } from './drive.ts';
import { effort } from './effort.ts';
import { gain } from './gain.ts';
import { heat } from './heat.ts';
import { hours } from './hours.ts';
import { leaders } from './leaders.ts';
import { partySize } from './party-size.ts';
import { roadAccess } from './road-access.ts';
import { rockClass } from './rock-class.ts';
import { season } from './season.ts';
import { stormWindow } from './storm-window.ts';

/** The questions of fit, in the order in which they are told. A new one is a file and a line here. */
export const CRITERIA = [
  distance,
  gain,
  effort,
  rockClass,
  altitude,
  stormWindow,
  daylight,
  drive,
  roadAccess,
  partySize,
  leaders,
  season,
  heat,
  hours,
  aim,
] as const;

type AnyOf = (typeof CRITERIA)[number];

export type CriterionName = AnyOf['name'];

/** Why the criterion of this name answers as it does. */
export type ReasonOf<Name extends CriterionName> =
  Extract<AnyOf, { readonly name: Name }> extends Criterion<Name, infer Reason> ? Reason : never;

export const CRITERION_NAMES: readonly CriterionName[] = CRITERIA.map(({ name }) => name);
