import type { RockClassReason } from '../../rank/criteria/rock-class.ts';
import type { UnitSystem } from '../../units.ts';
import { lengthText, stepText } from '../words.ts';
import type { CriterionWords } from './words-of.ts';

function reasonText(
  { code, stated, comfort, walked, wouldFit, steep }: RockClassReason,
  units: UnitSystem,
): string {
  switch (code) {
    case 'noComfort':
      return 'the group’s comfort class is not stated';
    case 'notStated': {
      const then = wouldFit === null ? 'be a stretch' : 'fit';
      return `rock class is not stated; by the class alone it would ${then} if its class is ${wouldFit ?? comfort} or less`;
    }
    case 'above':
      return `class ${stated} is above the group’s comfort class ${comfort}`;
    case 'minors':
      return `class ${stated} is no ground for minors`;
    case 'notAgreed':
      return `class ${stated} with minors: only where the program has agreed to it for this group; enter that it has`;
    case 'steepLine': {
      const where =
        steep === null
          ? 'the way itself is too steep for that'
          : `the way itself is ${Math.round(steep.deg)}° steep over ${stepText(50, units)}, ${lengthText(steep.atM, units)} from the start, and may be class ${steep.classAsked}`;
      return `stated as class ${stated}, but ${where}: state the class of the hardest move, or how much of the way needs hands (0: none)`;
    }
    case 'walked':
      return `class ${stated} is within comfort (${comfort}) and everyone has walked class ${walked}`;
    case 'notWalked': {
      const so =
        walked === null ? 'no class is recorded for everyone' : `so far everyone has walked class ${walked}`;
      return `class ${stated} is within comfort (${comfort}) but not walked yet: ${so}`;
    }
  }
}

export const rockClass: CriterionWords<'rockClass'> = {
  question: 'rock class',
  words: ({ reason }, units) => ({
    reason: reasonText(reason, units),
    ...(reason.need === undefined
      ? {}
      : { gap: `an outing on class ${reason.stated} ground first, with everyone who goes` }),
  }),
};
