import { countsHistory, wmsColumn } from '../capability/altitude.ts';
import type { Design } from '../design.ts';
import { areMinors } from '../rank/party.ts';
import { altitudeGroundsText } from '../text/altitude-words.ts';
import { heightText } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { citing, type PageLine, TRADE } from './people-page.ts';
import type { PlanFacts } from './plan-facts.ts';

/** Lake Louise 2018: Roach et al., High Alt Med Biol 2018;19:4-6 (pages from memory). */
const LAKE_LOUISE = 'Roach 2018 (Lake Louise)';
const WMS = 'WMS 2024';

/**
 * What the heights of this day call for, for the leaders: the column of the night before and of the summit from a home
 * taken as low, and what was not stated. Flags, never a veto. Empty where nothing is raised.
 */
export function altitudeFlags(facts: PlanFacts, units: UnitSystem, design: Design): PageLine[] {
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
      isMinor: areMinors(facts.party),
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
    altitudeHistory === null && (highM === null || countsHistory(highM, design.altitude))
      ? 'whether anyone has had altitude illness'
      : null,
    highM === null ? 'how high the route goes' : null,
  ].filter((text) => text !== null);
  if (asked.length > 0) flags.push({ text: `Not known, find out: ${asked.join('; ')}.`, source: null });
  return flags;
}

/** The rule for a headache, where the day goes so high or its height is not known; else `null`. */
export function headacheRule(facts: PlanFacts, units: UnitSystem, design: Design): PageLine | null {
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
    ...citing(
      LAKE_LOUISE,
      'Altitude: a headache with feeling sick, no appetite, very tired or dizzy means stop and rest. Not better after a rest: go down, with a leader.',
    ),
    ...citing(
      WMS,
      'Out of breath on the way up is usual high up and goes after a few minutes of rest. If it does not go, it is a danger sign.',
      'Danger signs: stumbling, cannot walk a straight line, confused, very sleepy, breathless at rest, a wet cough, blue lips. Go down at once, never alone, and call for help.',
    ),
    ...(areMinors(party)
      ? citing(
          `Southard 2007, ${WMS}`,
          'Children and teenagers report less than they feel. Ask each one, out of the others’ hearing, at every stop. Quiet, cross or slow counts as a sign.',
        )
      : citing(TRADE, 'Ask everyone at every stop. People hide it when the top is near.')),
  ];
}
