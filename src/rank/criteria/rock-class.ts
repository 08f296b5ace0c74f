import { numberAt } from '../../array.ts';
import { HANDS_CLASS } from '../../capability/rock.ts';
import { rockClassOrder, rockClassValue, valueOfOrder } from '../../ingest/rock-class.ts';
import type { Route } from '../../route/describe-route.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { answer, compare } from '../outcome.ts';
import { areMinors, partyOf } from '../party.ts';
import { LEAST_VALUE } from '../value.ts';
import { FITS, INCOMPLETE, RULED_OUT, STRETCH } from '../verdict.ts';

/** Value of a class within comfort that nobody has walked yet (design). */
const NOT_WALKED_VALUE = 0.5;

export interface RockClassReason extends AnyReason {
  /** `minors`: no ground for them; `notAgreed`: only where the program has agreed to it. */
  readonly code:
    | 'noComfort'
    | 'notStated'
    | 'above'
    | 'minors'
    | 'notAgreed'
    | 'steepLine'
    | 'walked'
    | 'notWalked';
  readonly stated: string | null;
  readonly comfort: string | null;
  /** The hardest that everyone who goes has walked lately. */
  readonly walked: string | null;
  /** Where none is stated: the hardest class that would fit; `null`: none would do better than a stretch. */
  readonly wouldFit: string | null;
  /** The class that the steepness of the line itself makes one ask about, where it is in doubt, and where that is. */
  readonly steep: { readonly classAsked: number; readonly deg: number; readonly atM: number } | null;
}

/** A class without its plus or minus. */
const wholeClass = (order: number): number => Math.round(valueOfOrder(order));

const orderOf = (text: string | null | undefined): number =>
  text == null ? Number.NaN : rockClassOrder(text);

function steepOf(classAsked: Float64Array, i: number, { measures }: Route): RockClassReason['steep'] {
  const asked = numberAt(classAsked, i);
  const { line50Deg = null, line50AtM = null } = measures.steepGround ?? {};
  return Number.isNaN(asked) || line50Deg === null || line50AtM === null
    ? null
    : { classAsked: asked, deg: line50Deg, atM: line50AtM };
}

/**
 * The hardest move against the group's comfort class, and whether everyone has walked such ground before. Minors are
 * never on class 4, and on class 3 only where the program has agreed to it for the group (common practice, no source).
 */
export const rockClass: Criterion<'rockClass', RockClassReason> = {
  name: 'rockClass',
  unit: 'class',
  isShifted: false,
  over({ table: { columns }, readiness: { shown }, request: { record } }) {
    const comfort = orderOf(record.cohort.comfortClass);
    const walked = orderOf(shown.rockClass?.text);
    const { cohort } = record;
    const isMinor = areMinors(partyOf(cohort));
    const isAgreed = cohort.class3Agreed === true;
    return (i, _shift, out) => {
      const stated = numberAt(columns.rockClassOrder, i);
      if (Number.isNaN(comfort)) answer(out, 'noComfort', INCOMPLETE, LEAST_VALUE);
      else if (Number.isNaN(stated)) answer(out, 'notStated', INCOMPLETE, LEAST_VALUE);
      else if (stated > comfort) answer(out, 'above', RULED_OUT, LEAST_VALUE);
      else if (isMinor && wholeClass(stated) > HANDS_CLASS) answer(out, 'minors', RULED_OUT, LEAST_VALUE);
      else if (isMinor && !isAgreed && wholeClass(stated) === HANDS_CLASS) {
        answer(out, 'notAgreed', RULED_OUT, LEAST_VALUE);
      } else if (numberAt(columns.classAsked, i) >= HANDS_CLASS) {
        answer(out, 'steepLine', INCOMPLETE, LEAST_VALUE);
      } else if (stated <= walked) answer(out, 'walked', FITS, 1);
      else answer(out, 'notWalked', STRETCH, NOT_WALKED_VALUE);
      compare(out, valueOfOrder(stated), valueOfOrder(comfort));
    };
  },
  reason({ facts, i, route }, { code }) {
    const stated = route.attributes.rockClass ?? null;
    const comfort = facts.request.record.cohort.comfortClass ?? null;
    const walked = facts.readiness.shown.rockClass;
    const isWithin = walked !== null && comfort !== null && walked.value < rockClassValue(comfort);
    return {
      code: code as RockClassReason['code'],
      stated,
      comfort,
      walked: walked?.text ?? null,
      steep: steepOf(facts.table.columns.classAsked, i, route),
      wouldFit: walked === null ? null : isWithin ? walked.text : comfort,
      ...(code === 'notWalked' && stated !== null ? { need: { rockClass: stated } } : {}),
    };
  },
};
