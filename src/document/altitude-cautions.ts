import { wmsColumn } from '../capability/altitude.ts';
import type { Design } from '../design.ts';
import { areMinors } from '../plan/party.ts';
import { altitudeGroundsText } from '../text/altitude-words.ts';
import { heightText } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { type PageLine, TRADE } from './people-page.ts';
import type { PlanFacts } from './plan-facts.ts';

/** Lake Louise 2018: Roach et al., High Alt Med Biol 2018;19:4-6 (pages from memory). */
const LAKE_LOUISE = 'Roach 2018 (Lake Louise)';
const WMS = 'WMS 2024';

export type LakeLouiseItem = 'headache' | 'stomach' | 'tiredness' | 'dizziness';

/** The four questions, each answered 0 to 3, in our own words. Sleep is no item since 2018. */
export const LAKE_LOUISE_ITEMS: readonly {
  readonly item: LakeLouiseItem;
  readonly question: string;
  readonly answers: readonly [string, string, string, string];
}[] = [
  {
    item: 'headache',
    question: 'Does your head hurt?',
    answers: ['no', 'a little', 'quite a lot', 'so much that I cannot go on'],
  },
  {
    item: 'stomach',
    question: 'How is your stomach?',
    answers: [
      'fine',
      'not hungry, or a little sick',
      'sick, or I have thrown up',
      'so sick that I cannot go on',
    ],
  },
  {
    item: 'tiredness',
    question: 'How tired or weak are you?',
    answers: ['not more than I should be', 'a little', 'quite a lot', 'so much that I cannot go on'],
  },
  {
    item: 'dizziness',
    question: 'Are you dizzy or light-headed?',
    answers: ['no', 'a little', 'quite a lot', 'so much that I cannot go on'],
  },
];

export interface LakeLouiseResult {
  /** 0 to 12. */
  readonly total: number;
  /** Recent gain of height, headache of 1 or more, and a total of 3 or more. */
  readonly isMountainSickness: boolean;
  /** Mild 3-5, moderate 6-9, severe 10-12; `null` where the score is not mountain sickness. Not "all is well". */
  readonly severity: 'mild' | 'moderate' | 'severe' | null;
}

/**
 * Scores the four answers (Lake Louise 2018). An aid to asking, never a judgement of health: children of 4 to 11
 * report less than they have (Southard 2007, cited by WMS 2024).
 * @throws RangeError on an answer that is not 0, 1, 2 or 3.
 * @example lakeLouise({ headache: 1, stomach: 1, tiredness: 1, dizziness: 0 }, true).severity // 'mild'
 */
export function lakeLouise(
  answers: Readonly<Record<LakeLouiseItem, number>>,
  gainedHeight: boolean,
): LakeLouiseResult {
  const scores = LAKE_LOUISE_ITEMS.map(({ item }) => answers[item]);
  const wrong = scores.find((score) => ![0, 1, 2, 3].includes(score));
  if (wrong !== undefined) throw new RangeError(`${wrong} is not an answer from 0 to 3`);
  const total = scores.reduce((sum, score) => sum + score, 0);
  const isMountainSickness = gainedHeight && answers.headache >= 1 && total >= 3;
  const severity = !isMountainSickness ? null : total >= 10 ? 'severe' : total >= 6 ? 'moderate' : 'mild';
  return { total, isMountainSickness, severity };
}

type AltitudeFacts = Pick<PlanFacts, 'highM' | 'sleepElevationM' | 'altitudeHistory' | 'checkpoints'>;

/**
 * What the heights of this day call for, for the leaders: the column of the night before and of the summit from a home
 * taken as low, and what was not stated. Flags, never a veto. Empty where nothing is raised.
 */
export function altitudeFlags(facts: AltitudeFacts, units: UnitSystem, design: Design): PageLine[] {
  const { highM, sleepElevationM, altitudeHistory } = facts;
  const flags: PageLine[] = [];
  // A sleeping height that is not stated is taken as the start's, as the altitude criterion does. The rest of what is
  // not stated raises nothing by itself; the line below asks for it.
  const { column, grounds } = wmsColumn(
    {
      sleepElevationM: sleepElevationM ?? facts.checkpoints[0]?.elevationM ?? 0,
      history: altitudeHistory ?? 'none',
      summitM: highM ?? 0,
      homeM: null,
    },
    design.altitude,
  );
  if (column !== 'low') {
    const advice = column === 'high' ? ' Sleep lower, or take more nights.' : '';
    flags.push({
      text: `Risk of altitude illness: ${column} (${altitudeGroundsText(grounds, units)}).${advice}`,
      source: WMS,
    });
  }
  const asked = [
    sleepElevationM === null ? 'at what height everyone sleeps the night before' : null,
    altitudeHistory === null ? 'whether anyone has had altitude illness' : null,
    highM === null ? 'how high the route goes' : null,
  ].filter((text) => text !== null);
  if (asked.length > 0) flags.push({ text: `Not known, find out: ${asked.join('; ')}.`, source: null });
  return flags;
}

/** The rule for a headache, where the day goes so high or its height is not known; else `null`. */
export function headacheRule(
  facts: Pick<PlanFacts, 'highM' | 'party'>,
  units: UnitSystem,
  design: Design,
): PageLine | null {
  const { headacheStopM } = design.cards;
  if (facts.highM !== null && facts.highM <= headacheStopM) return null;
  return {
    text: `Above ${heightText(headacheStopM, units)} anyone with a headache, however small, goes no higher.`,
    source: areMinors(facts.party) ? `Southard 2007, ${WMS}` : LAKE_LOUISE,
  };
}

/** Altitude illness in a few lines that hold on every day. Treatment is the rule of the trade: go down. */
export function altitudeCautions(party: PlanFacts['party']): PageLine[] {
  return [
    {
      text: 'Altitude: a headache with feeling sick, very tired or dizzy means stop and rest. Not better after a rest: go down, with a leader.',
      source: LAKE_LOUISE,
    },
    {
      text: 'Danger signs: stumbling, cannot walk a straight line, confused, very sleepy, breathless at rest, a wet cough, blue lips. Go down at once, never alone, and call for help.',
      source: WMS,
    },
    areMinors(party)
      ? {
          text: 'Children and teenagers report less than they feel. Ask each one, out of the others’ hearing, at every stop. Quiet, cross or slow counts as a sign.',
          source: `Southard 2007, ${WMS}`,
        }
      : {
          text: 'Ask everyone at every stop. People hide it when the top is near.',
          source: TRADE,
        },
  ];
}
