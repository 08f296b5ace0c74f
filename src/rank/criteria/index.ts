import type { Criterion } from '../criterion.ts';
import { aim } from './aim.ts';
import { altitude } from './altitude.ts';
import { daylight } from './daylight.ts';
import { distance } from './distance.ts';
import { drive } from './drive.ts';
import { effort } from './effort.ts';
import { gain } from './gain.ts';
import { partySize } from './party-size.ts';
import { roadAccess } from './road-access.ts';
import { rockClass } from './rock-class.ts';
import { season } from './season.ts';
import { stormWindow } from './storm-window.ts';

/** The twelve questions, in the order in which they are told. A new one is a file and a line here. */
export const CRITERIA: readonly Criterion[] = [
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
  season,
  aim,
];
