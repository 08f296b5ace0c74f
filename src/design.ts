/**
 * The settings: every limit and constant of this project's own ("design"), and the rules of the trade that have no
 * source. One schema, by topic in design/, gives each its default, its range and what it is. A program changes any of
 * them through `withChanges`; results name `version`.
 */

import Type from 'typebox';
import Value from 'typebox/value';
import * as day from './design/day.ts';
import * as pace from './design/pace.ts';
import * as ranking from './design/ranking.ts';
import { recording } from './design/recording.ts';
import * as route from './design/route.ts';
import * as supplies from './design/supplies.ts';
import { training } from './design/training.ts';
import { EngineError, together } from './errors.ts';
import { message } from './message.ts';
import { closed, isZone } from './schema.ts';

export const designSchema = closed(
  {
    version: Type.String({ default: 'design-1', minLength: 1, description: 'named by every result' }),
    tradeRule: pace.tradeRule,
    gain: route.gain,
    steepGround: route.steepGround,
    treeline: route.treeline,
    openGround: route.openGround,
    checkpoints: route.checkpoints,
    routeCard: route.routeCard,
    stormWindow: day.stormWindow,
    daylight: day.daylight,
    day: day.day,
    climate: day.climate,
    plan: day.plan,
    journey: day.journey,
    stops: day.stops,
    pace: pace.pace,
    recording,
    afterDay: pace.afterDay,
    detraining: pace.detraining,
    training,
    massKg: pace.massKg,
    limits: ranking.limits,
    drive: day.drive,
    altitude: day.altitude,
    aim: ranking.aim,
    party: ranking.party,
    cards: supplies.cards,
    supplies: supplies.supplies,
    kit: supplies.kit,
    acceptability: ranking.acceptability,
    season: ranking.season,
    weights: ranking.weights,
  },
  'settings; numbers are SI with the unit in the name',
);

export type Design = Type.Static<typeof designSchema>;
export type AgeBand = keyof Design['massKg'];

export const DESIGN: Design = Value.Create(designSchema);

type Refuse = (pointer: string, wanted: string) => void;

/** A value of the schema with changes laid over it; what cannot be, is refused and stays as it was. */
function merged(schema: Type.TSchema, base: unknown, change: unknown, at: string, refuse: Refuse): unknown {
  if (Type.IsObject(schema)) {
    if (typeof change !== 'object' || change === null || Array.isArray(change)) {
      refuse(at === '' ? 'the whole' : at, 'an object');
      return base;
    }
    const result: Record<string, unknown> = { ...(base as object) };
    for (const [key, value] of Object.entries(change)) {
      const inner = Object.hasOwn(schema.properties, key) ? schema.properties[key] : undefined;
      if (inner !== undefined) result[key] = merged(inner, result[key], value, `${at}/${key}`, refuse);
      else {
        const known = Object.keys(schema.properties).join(', ');
        refuse(`${at}/${key}`, `left out: it is not a setting; known here: ${known}`);
      }
    }
    return result;
  }
  if (!Value.Check(schema, change)) refuse(at, wantedOf(schema, change));
  return change;
}

function wantedOf(schema: Type.TSchema, change: unknown): string {
  if (Type.IsUnion(schema)) return wantedOf(schema.anyOf[0] ?? schema, change);
  if ('minimum' in schema && 'maximum' in schema)
    return `a number from ${schema.minimum} to ${schema.maximum}`;
  return typeof change !== 'string' || change === '' ? 'a text' : 'a time of day such as "04:30"';
}

/**
 * The settings with a program's changes laid over them; only what is named changes.
 * @throws EngineError `bad-settings` with all unknown names and values out of their range.
 */
export function withChanges(changes: unknown, base: Design = DESIGN): Design {
  const faults: EngineError[] = [];
  const refuse: Refuse = (pointer, wanted) => {
    faults.push(
      new EngineError('bad-settings', message`settings: ${pointer} must be ${wanted}`, { pointer }),
    );
  };
  const changed = merged(designSchema, base, changes, '', refuse) as Design;
  if (faults.length === 0) {
    const { weights, stormWindow, recording } = changed;
    if (changed.day.timeZone !== null && !isZone(changed.day.timeZone))
      refuse('/day/timeZone', 'a time zone such as America/Denver');
    if (Object.values(weights).every((weight) => weight === 0)) refuse('/weights', 'not all 0');
    if (stormWindow.stretchProbability > stormWindow.probability)
      refuse('/stormWindow/stretchProbability', 'at most the probability for a fit');
    if (recording.walkMostMs > recording.rideMs)
      refuse('/recording/walkMostMs', 'at most the speed of a ride');
  }
  if (faults.length > 0) throw together(faults);
  return changed;
}
