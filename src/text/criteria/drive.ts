import type { Approach } from '../../approach/approach.ts';
import type { UnitSystem } from '../../units.ts';
import { durationText, lengthText } from '../words.ts';
import type { CriterionWords } from './words-of.ts';

/** An estimate beyond this is a slip in the meeting place, not a drive (design). */
const ABSURD_KM = 2000;

/** A stated drive is from wherever the route's author meant, which need not be this group's meeting place. */
const STATED = ' (stated with the route)';

function approachText({ roadKm, roadMin, kmEstimated, minEstimated }: Approach, units: UnitSystem): string {
  // Both stated: said once, behind the minutes.
  const isStated = roadMin !== null && !minEstimated;
  const parts: string[] = [];
  if (roadKm !== null) {
    const whence = kmEstimated ? ' (estimated from the straight line)' : isStated ? '' : STATED;
    parts.push(`${lengthText(roadKm * 1000, units)} by road${whence}`);
  }
  if (roadMin !== null) parts.push(`about ${durationText(roadMin)}${minEstimated ? ' (estimated)' : STATED}`);
  // Nobody drives that far to a trailhead: the meeting place is wrong, most likely swapped.
  const isAbsurd = kmEstimated && roadKm !== null && roadKm > ABSURD_KM;
  return `${parts.join(', ')}${isAbsurd ? ' (check the meeting place: are latitude and longitude swapped?)' : ''}`;
}

export const drive: CriterionWords<'drive'> = {
  question: 'drive',
  words: ({ reason: { code, approach }, verdict, capacity }, units) => {
    if (code === 'unknown') {
      const toCheck = 'the drive: neither the meeting place nor the road distance is stated';
      return { reason: 'the drive is not known', toCheck };
    }
    const text = approachText(approach, units);
    if (code === 'noLimit') return { reason: text, toCheck: 'how far the group may drive' };
    if (code === 'noFigure') {
      return { reason: text, toCheck: 'the drive against its limit: state the road distance' };
    }
    const isKm = code === 'km';
    const limit = isKm ? lengthText((capacity ?? 0) * 1000, units) : durationText(capacity ?? 0);
    const beyond = `${text}, beyond the limit of ${limit}`;
    if (verdict === 'fits') return { reason: `${text}; the limit is ${limit}` };
    if (verdict === 'stretch') return { reason: beyond, toCheck: 'the road distance: only estimated' };
    if (verdict === 'incomplete') {
      return { reason: `${beyond}; state the road distance: an estimate alone does not rule it out` };
    }
    const isEstimated = isKm ? approach.kmEstimated : approach.minEstimated;
    return { reason: `${beyond}${isEstimated ? ', even allowing for the estimate' : ''}` };
  },
};
