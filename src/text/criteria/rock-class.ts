import type { RockClassReason } from '../../rank/criteria/rock-class.ts';
import type { CriterionWords } from './words-of.ts';

function reasonText({ code, stated, comfort, walked, wouldFit }: RockClassReason): string {
  switch (code) {
    case 'noComfort':
      return 'the group’s comfort class is not stated';
    case 'notStated': {
      const then = wouldFit === null ? 'be a stretch' : 'fit';
      return `rock class is not stated; by the class alone it would ${then} if its class is ${wouldFit ?? comfort} or less`;
    }
    case 'above':
      return `class ${stated} is above the group’s comfort class ${comfort}`;
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
  words: ({ reason }) => ({
    reason: reasonText(reason),
    ...(reason.need === undefined
      ? {}
      : { gap: `an outing on class ${reason.stated} ground first, with everyone who goes` }),
  }),
};
