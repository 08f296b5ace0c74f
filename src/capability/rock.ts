import type { Design } from '../design.ts';
import { rockClassValue } from '../ingest/rock-class.ts';
import type { Route } from '../route/describe-route.ts';

/** From this class on hands are needed. */
export const HANDS_CLASS = 3;

/**
 * Metres between two places of a route on which hands are needed. As many as are stated; where only a class of 3 or
 * more is, the steep length of the line, and never less than a setting. They are taken to lie about the top: nothing
 * says where, and there they come before the way down below treeline.
 */
export function rockOn(
  { attributes, measures, high }: Pick<Route, 'attributes' | 'measures' | 'high'>,
  { pace }: Pick<Design, 'pace'>,
): (fromM: number, toM: number) => number {
  const { rockClass, scrambleM } = attributes;
  const needsHands = rockClass != null && Math.round(rockClassValue(rockClass)) >= HANDS_CLASS;
  const unstatedM = needsHands ? Math.max(pace.rock.unstatedM, measures.steepGround?.steepLineM ?? 0) : 0;
  const lengthM = Math.min(measures.distanceM, scrambleM ?? unstatedM);
  const middleM = high?.distanceM ?? measures.distanceM / 2;
  const beginM = Math.min(measures.distanceM - lengthM, Math.max(0, middleM - lengthM / 2));
  return (fromM, toM) => Math.max(0, Math.min(toM, beginM + lengthM) - Math.max(fromM, beginM));
}
