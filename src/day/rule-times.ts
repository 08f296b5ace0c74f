import { HIKING_RULES } from '../capability/rules/index.ts';
import type { Leg } from '../capability/rules/leg.ts';
import type { Route } from '../route/describe-route.ts';
import type { Piece } from '../route/pieces.ts';

export interface RuleTime {
  readonly name: string;
  readonly source: string;
  /** Moving time of the whole route, stops not counted, minutes. */
  readonly movingMin: number;
}

function together(pieces: readonly Piece[]): Leg {
  return pieces.reduce<Leg>(
    (leg, piece) => ({
      horizontalM: leg.horizontalM + piece.horizontalM,
      climbM: leg.climbM + piece.climbM,
      dropM: leg.dropM + piece.dropM,
    }),
    { horizontalM: 0, climbM: 0, dropM: 0 },
  );
}

/** DIN 33466 holds for whole legs: the way to the high point and the way from it. */
const WHOLE_LEGS = new Set(['din33466']);

/** What published rules say of the route’s moving time: a cross-check, fitted to nobody. */
export function ruleTimes(route: Route): readonly RuleTime[] {
  const turnM = route.high?.distanceM ?? 0;
  const halves = [
    together(route.pieces.filter((piece) => piece.toM <= turnM)),
    together(route.pieces.filter((piece) => piece.toM > turnM)),
  ];
  const legs = [...new Set(route.pieces.map((piece) => piece.leg))].map((leg) =>
    together(route.pieces.filter((piece) => piece.leg === leg)),
  );
  return HIKING_RULES.map(({ key, name, source, minutes }) => ({
    name,
    source,
    movingMin: minutes(WHOLE_LEGS.has(key) ? halves : legs),
  }));
}
