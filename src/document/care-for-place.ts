import type { PageLine } from './people-page.ts';
import type { PlanFacts } from './plan-facts.ts';

/**
 * How the group treats the place (common practice, no source). The lines for ground above treeline stand unless the
 * whole route is known to lie below it.
 */
export function careForPlace({ aboveTreelineMin }: Pick<PlanFacts, 'aboveTreelineMin'>): PageLine[] {
  const mayBeAbove = aboveTreelineMin !== 0;
  return [
    mayBeAbove
      ? 'Toilet: go at the trailhead. Above treeline there is too little soil to bury it in: carry it out in a sealed bag, paper too.'
      : 'Toilet: go at the trailhead. On the way: far from water and path, a hand-deep hole in soil; paper comes home.',
    mayBeAbove
      ? 'Walk on rock, gravel, snow or the path. Plants up there take many years to grow back from one boot.'
      : 'Stay on the path, through mud too. A second path beside it takes years to heal.',
    'No fires. All food scraps come home, peel and shells too.',
    'Animals: look from far away, never feed, never chase, and keep food closed.',
    'Quiet: voices carry. Let others pass, and leave stones, flowers and horns where they are.',
    'What the land manager says comes first.',
  ].map((text) => ({ text, source: 'common practice' }));
}
