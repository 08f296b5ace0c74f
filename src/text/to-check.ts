import type { Question } from '../rank/questions.ts';
import type { UnitSystem } from '../units.ts';
import { lengthText, plural, stepText } from './words.ts';

/** A question, to stand after "to check". */
export function toCheckText(question: Question, units: UnitSystem): string {
  switch (question.code) {
    case 'steepForClass': {
      const { stated, classAsked, steepestDeg, atM } = question;
      const says = stated === null ? 'not stated' : `stated as ${stated}`;
      return `the class (${says}): ground of ${Math.round(steepestDeg)}° over ${stepText(50, units)}, ${lengthText(atM, units)} from the start, may be class ${classAsked} or more (a built path may be easier than its slope)`;
    }
    case 'oneWay':
      return question.pickUp === null
        ? 'one way: transport from the end, or the way back if the group walks it (draw it in)'
        : `one way, the pick-up at its end: ${question.pickUp}`;
    case 'beginsAtTop':
      return 'the line begins at its top: whether it is the whole day';
    case 'treelineDoubtful':
      return 'the treeline stated: far from what this latitude has; are it and its unit right?';
    case 'zoneBorder': {
      const { used, beside } = question;
      return `the hour: times are of ${used.zone} (UTC${used.offset}); ${beside.zone} (UTC${beside.offset}) is near. Set watches by hand`;
    }
    case 'permit': {
      const { who, partiesPerDay } = question;
      const few = partiesPerDay === null ? '' : `, ${plural(partiesPerDay, 'party', 'parties')} a day`;
      return `permit: ${who}${few}`;
    }
    case 'parking':
      return `parking: ${plural(question.spaces, 'space')} for ${plural(question.vehicles, 'vehicle')}`;
    case 'ageBandNotStated':
      return 'age band not stated (minors’ limits were used)';
    case 'whoWasThereNotStated':
      return 'who was on the outings is not stated: they were taken to count for everyone who goes';
    case 'fewLabels':
      return `labels name ${question.labelled} of ${question.participants} participants: the others are taken to have shown the same`;
    case 'someWithoutClock':
      return 'someone who goes has no clocked outing on record: no pace faster than the trade rule was assumed';
    case 'outingsAfter': {
      const { count } = question;
      return `${plural(count, 'outing')} after the trip’s date ${count === 1 ? 'was' : 'were'} left out`;
    }
    case 'timeImplausible':
      return 'an outing’s moving time is implausible and was left out of the pace';
  }
}
