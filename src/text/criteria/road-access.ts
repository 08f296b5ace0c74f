import type { Clearance } from '../../approach/vehicles.ts';
import type { RoadAccessReason } from '../../rank/criteria/road-access.ts';
import { plural } from '../words.ts';
import type { CriterionWords } from './words-of.ts';

const NEED: Record<Clearance, string> = {
  any: 'any car manages the road',
  high: 'the road needs high clearance',
  fourWheel: 'the road needs four-wheel drive',
};

function askedText({ clearance, hasVehicles, isRoadAsked, roadStatus }: RoadAccessReason): string | null {
  const asked = [
    ...(clearance === null ? ['road clearance not stated'] : []),
    ...(hasVehicles ? [] : ['vehicles not stated']),
    // Only a plain "open" needs no question.
    ...(isRoadAsked ? [`the road: ${roadStatus}`] : []),
  ];
  return asked.length > 0 ? asked.join('; ') : null;
}

export const roadAccess: CriterionWords<'roadAccess'> = {
  question: 'road',
  words: ({ reason }) => {
    const { code, clearance, roadStatus, hasVehicles, isAnyVehicle, seats, party, endsElsewhere } = reason;
    const need = clearance === null ? 'the road’s clearance is not stated' : NEED[clearance];
    const status = roadStatus === null ? '' : `; road: ${roadStatus}`;
    switch (code) {
      case 'closed':
        return { reason: `the road is closed: ${roadStatus}` };
      case 'stranded': {
        const have = hasVehicles ? 'only one vehicle is' : 'no vehicles are';
        return {
          reason: `the walk ends elsewhere and ${have} stated that can get there: state a second one, or with the route how the group is picked up at the end${status}`,
        };
      }
      case 'noVehicles':
        return { reason: `${need}; no vehicles are stated${status}`, toCheck: askedText(reason) };
      case 'seats': {
        const wayBack = endsElsewhere ? '; the walk ends elsewhere, where one vehicle has to wait' : '';
        return {
          reason: `${need}; ${plural(seats ?? 0, 'seat')} for ${party}${wayBack}${status}`,
          toCheck: askedText(reason),
        };
      }
      case 'tooFewSeats':
        return {
          reason:
            seats === 0
              ? isAnyVehicle
                ? `${need}; none of the group’s vehicles manages it`
                : 'no vehicle goes: nobody gets to the trailhead by road'
              : `${need}; the vehicles that manage it have ${plural(seats ?? 0, 'seat')} for ${plural(party, 'person', 'people')}`,
        };
    }
  },
};
