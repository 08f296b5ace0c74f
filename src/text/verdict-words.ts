import type { Verdict } from '../rank/verdict.ts';

export const VERDICT_TEXT: Record<Verdict, string> = {
  fits: 'fits',
  stretch: 'stretch',
  notYet: 'not yet',
  incomplete: 'incomplete',
  ruledOut: 'ruled out',
};
