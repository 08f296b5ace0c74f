import { at, numberAt } from '../../array.ts';
import { chanceOf } from '../../capability/student-t.ts';
import type { Deadline } from '../../day/deadline.ts';
import type { Interval } from '../../route/describe-route.ts';
import { OPEN_GROUND } from '../../route/open-ground.ts';
import type { Treeline } from '../../route/treeline.ts';
import { MS_PER_MIN } from '../../units.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { type Missing, missingOf } from '../missing.ts';
import { answer, compare } from '../outcome.ts';
import { wishesOf } from '../readiness.ts';
import { chanceValue, LEAST_VALUE, NOT_STATED_VALUE, spareValue } from '../value.ts';
import { FITS, INCOMPLETE, NOT_YET, STRETCH } from '../verdict.ts';

export type StormWindowReason = AnyReason &
  (
    | { readonly code: 'unknown'; readonly missing: Missing }
    /** Minutes above it as it lies lower or higher; `null`: not known. */
    | { readonly code: 'noTreeline'; readonly aboveMin: Interval | null }
    | {
        /** `openAsked`, `openLikely`: a top below treeline that may be bare; `openHeight`: it is, from no stated height on. */
        readonly code: 'noneAbove' | 'openAsked' | 'openLikely' | 'openHeight' | 'endsAbove';
        readonly treeline: Treeline;
      }
    | {
        readonly code: 'inTime' | 'tooLate';
        readonly treeline: Treeline;
        readonly deadline: Deadline;
        /** Only the end of the route, itself above treeline, leaves that ground. */
        readonly isTrailheadAbove: boolean;
        readonly earliestMs: number;
        readonly latestMs: number;
        /** From the earliest to the latest start: below 0 where even the earliest is too late. */
        readonly spareMin: number;
        readonly wanted: number;
        /** To be in time when started at the earliest. */
        readonly probability: number;
        readonly hasHeadlamps: boolean;
        /** Far north or south in summer, where the rule of noon has not been learned: no `notYet` comes from it. */
        readonly isPolarDay: boolean;
        readonly zone: string;
        readonly date: string;
      }
  );

const UNTIMED = ['noneAbove', 'openAsked', 'openLikely', 'openHeight', 'endsAbove'] as const;
const isUntimed = (code: string): code is (typeof UNTIMED)[number] =>
  UNTIMED.some((untimed) => untimed === code);

/** Whether the group can be below treeline by the deadline with the wanted probability. */
export const stormWindow: Criterion<'stormWindow', StormWindowReason> = {
  name: 'stormWindow',
  unit: 'min',
  isShifted: true,
  over({ table: { columns }, day, readiness: { pace }, request: { design, record } }) {
    const { probability: wanted, stretchProbability } = design.stormWindow;
    const chance = chanceOf(pace.posterior.degreesOfFreedom);
    const openGround = (i: number) => at(OPEN_GROUND, numberAt(columns.openGround, i));
    const isUsual = wishesOf(record).deadline === null;
    return (i, shift, out) => {
      if (Number.isNaN(numberAt(columns.gainM, i))) answer(out, 'unknown', INCOMPLETE, LEAST_VALUE);
      else if (numberAt(columns.isTreelineKnown, i) !== 1) answer(out, 'noTreeline', INCOMPLETE, LEAST_VALUE);
      else if (openGround(i) === 'noHeight') answer(out, 'openHeight', INCOMPLETE, LEAST_VALUE);
      else if (numberAt(columns.hasExit, i) !== 1) {
        const open = openGround(i);
        if (open === 'likely') answer(out, 'openLikely', INCOMPLETE, LEAST_VALUE);
        else if (open === 'asked') answer(out, 'openAsked', FITS, NOT_STATED_VALUE);
        else answer(out, 'noneAbove', FITS, 1);
      } else if (numberAt(columns.endsAbove, i) === 1 && numberAt(columns.isOneWay, i) === 1) {
        answer(out, 'endsAbove', INCOMPLETE, LEAST_VALUE);
      } else {
        const untilMin = (numberAt(day.deadlineMs, i) - numberAt(day.earliestStartMs, i)) / MS_PER_MIN;
        const neededMin = day.exitMin(i, shift);
        const spareMin = untilMin - neededMin;
        if (spareMin >= 0) answer(out, 'inTime', FITS, spareValue(spareMin));
        else {
          const middleMin = numberAt(day.exitMeanMin, i) + day.moreMin(i, shift);
          const probability = chance((untilMin / shift.time - middleMin) / numberAt(day.exitScaleMin, i));
          const isPolarDay = isUsual && at(day.polar, i) === 1;
          const rank = probability >= stretchProbability || isPolarDay ? STRETCH : NOT_YET;
          answer(out, 'tooLate', rank, chanceValue(probability, wanted, stretchProbability));
        }
        compare(out, neededMin, untilMin);
      }
    };
  },
  reason({ facts: { request }, route, timeline }, { code, demand, capacity }) {
    const { measures, treeline } = route;
    if (code === 'noTreeline') return { code, aboveMin: measures.aboveTreelineRangeMin };
    if (isUntimed(code)) return { code, treeline };
    const { latestStartMs = null, probabilityAtEarliest = null } = timeline?.storm ?? {};
    if (timeline === null || latestStartMs === null || probabilityAtEarliest === null) {
      return { code: 'unknown', missing: missingOf(route) };
    }
    return {
      code: code as 'inTime' | 'tooLate',
      treeline,
      deadline: timeline.storm.deadline,
      isTrailheadAbove: timeline.storm.endsAbove,
      earliestMs: timeline.earliestStartMs,
      latestMs: latestStartMs,
      spareMin: capacity - demand,
      wanted: request.design.stormWindow.probability,
      probability: probabilityAtEarliest,
      hasHeadlamps: request.record.cohort.headlamps === true,
      isPolarDay: timeline.polar === 'day',
      zone: timeline.zone,
      date: timeline.date,
      ...(code === 'tooLate' ? { need: { timeFactor: capacity > 0 ? capacity / demand : 0 } } : {}),
    };
  },
};
