import { langmuir, langmuirGroup, naismith } from './langmuir.ts';
import type { HikingRule } from './leg.ts';
import { munter, swiss } from './swiss.ts';
import { tobler } from './tobler.ts';
import { cautiousTradeRule, din33466, tradeRule } from './trade-rule.ts';

export interface NamedRule {
  readonly key: string;
  readonly name: string;
  readonly source: string;
  /** Moving time over whole legs, minutes, without stops. */
  readonly minutes: HikingRule;
}

/** The published rules and those of the trade, shown beside a group's own pace. Never plan a youth group on the fast ones. */
export const HIKING_RULES: readonly NamedRule[] = [
  {
    key: 'cautiousTrade',
    name: 'Trade rule up, the slower of it and DIN 33466 down',
    source: 'design, from common practice and DIN 33466',
    minutes: cautiousTradeRule,
  },
  {
    key: 'trade',
    name: 'Trade rule: 30 min a mile and 1 h per 1,000 ft climbed',
    source: 'common practice, no source',
    minutes: tradeRule,
  },
  { key: 'din33466', name: 'DIN 33466', source: 'DIN 33466, whole legs', minutes: din33466 },
  {
    key: 'langmuirGroup',
    name: 'Langmuir, group',
    source: 'Langmuir 2013, Mountaincraft and Leadership, 4th ed.',
    minutes: langmuirGroup,
  },
  { key: 'munter', name: 'Munter', source: 'W. Munter, practice of alpine guides', minutes: munter },
  {
    key: 'swiss',
    name: 'Swiss hiking signposts',
    source: 'Swiss hiking federation; coefficients from the federal geoportal',
    minutes: swiss,
  },
  {
    key: 'langmuir',
    name: 'Naismith with Langmuir’s corrections',
    source: 'Langmuir 1984, Mountaincraft and Leadership',
    minutes: langmuir,
  },
  {
    key: 'tobler',
    name: 'Tobler, on path',
    source: 'Tobler 1993, NCGIA Technical Report 93-1',
    minutes: tobler,
  },
  {
    key: 'naismith',
    name: 'Naismith',
    source: 'Naismith 1892, Scottish Mountaineering Club Journal 2:136',
    minutes: naismith,
  },
];
