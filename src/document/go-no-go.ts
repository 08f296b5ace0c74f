import type { Design } from '../design.ts';
import { leastLeaders } from '../rank/party.ts';
import { windText } from '../text/amount-text.ts';
import { steepGroundText } from '../text/steep-ground-text.ts';
import { VERDICT_TEXT } from '../text/verdict-words.ts';
import { climbText, clockOn, durationText, lengthText, percentText, plural } from '../text/words.ts';
import { MS_PER_MIN, type UnitSystem } from '../units.ts';
import { altitudeFlags, headacheRule } from './altitude-cautions.ts';
import { citing, type Lines, type PageSection, type PeoplePage, section } from './people-page.ts';
import { allCautions } from './plan-cautions.ts';
import type { PlanFacts } from './plan-facts.ts';
import { NONE, wayDownRead } from './turn-cells.ts';

const eyeText = (metres: number, units: UnitSystem): string =>
  // Rounded up: nobody goes on in worse sight than the limit set.
  units === 'us' ? `${Math.ceil(metres / (0.9144 * 10)) * 10} yards` : `${Math.ceil(metres)} m`;

/**
 * Until when thunder in the forecast forbids the high route: a margin after the late time back below treeline (after
 * the late time back at the end where no such place is known), and never before the deadline, up to which the cut-off
 * times let the group be high. Ms since 1970.
 */
export function thunderUntilMs(
  facts: PlanFacts,
  design: Design,
): { readonly atMs: number; readonly why: string } {
  const below = facts.checkpoints.findLast(({ kind }) => kind === 'treelineDown');
  const lateMs = below?.at.p90Ms ?? facts.back.p90Ms;
  const where = below === undefined ? 'at the end of the route' : 'below treeline';
  const withMarginMs = lateMs + design.cards.thunderMarginMin * MS_PER_MIN;
  if (below !== undefined && facts.deadlineMs !== null && facts.deadlineMs > withMarginMs) {
    return { atMs: facts.deadlineMs, why: 'the deadline to be below treeline' };
  }
  const late = clockOn(lateMs, facts.zone, facts.date);
  return {
    atMs: withMarginMs,
    why: `back ${where} by ${late} in nine days of ten, and ${durationText(design.cards.thunderMarginMin)} more`,
  };
}

const snowTick = (steepSnow: true | null): string =>
  steepSnow === true
    ? 'Snow lies on or above the ground of 30 to 50° on this route. It may on this date: look, and ask who was there.'
    : 'Snow lies on or above any ground of 30 to 50°. Whether it may on this date is not known: find out first.';

function noGo(facts: PlanFacts, units: UnitSystem, design: Design): PageSection {
  const { cards } = design;
  const thunder = thunderUntilMs(facts, design);
  const { whole } = leastLeaders(facts.party, design);
  const steep = steepGroundText(facts.steepGround, units);
  return section('Take the lower choice, or stay, if one of these is true', {
    // Wind is rounded down: never a higher limit than the one set.
    ticks: [
      `Thunder is forecast before ${clockOn(thunder.atMs, facts.zone, facts.date)} (${thunder.why}), or seen or heard already.`,
      `Wind on open ground over ${windText(cards.windKmPerH, units, Math.floor)}, or gusts over ${windText(cards.gustKmPerH, units, Math.floor)}.`,
      `You can see less than ${eyeText(cards.visibilityM, units)}, or cloud will sit on the high ground.`,
      'Anyone is unwell this morning, slept badly from illness, or does not want to go.',
      `Fewer than ${plural(whole, 'leader')} for ${plural(facts.party.participants, 'participant')}, or more people than planned.`,
      `The road is closed, or worse than the vehicles can take${facts.roadStatus === null ? ' (nothing is stated: ask)' : ` (stated: ${facts.roadStatus})`}.`,
      snowTick(facts.steepSnow),
      'There is no forecast from today, or it and the sky do not agree.',
    ],
    // Steep snow: most slabs start at 30-50 degrees (avalanche.org). Wind and sight: design.
    lines: [
      ...citing('avalanche.org', 'Slopes: most snow slides start at 30 to 50°.'),
      ...(steep === null ? [] : citing('elevation tiles', `Steep ground: ${steep}`)),
      ...citing('design', 'Limits of wind and sight are the program’s own settings.'),
    ],
  });
}

function onTheWay({ checkpoints, zone, date, aboveTreelineMin, usualDeadlineMs }: PlanFacts): PageSection {
  const timed = checkpoints.filter(
    ({ cutOffText, retreatText }) => cutOffText !== NONE || retreatText !== NONE,
  );
  if (timed.length === 0) {
    return section('On the way', {
      lines: ['No turn-back times could be worked out for this day. Agree on them before you start.'],
      blanks: ['Turn back if not at … by', 'Start down from the highest point by'],
    });
  }
  return section('On the way: late at one of these means turn round', {
    lines: [
      aboveTreelineMin === null
        ? `Treeline is not known, so storms are not in these times: be off open ground by ${clockOn(usualDeadlineMs, zone, date)}.`
        : null,
      timed.some(({ cutOffText }) => cutOffText === 'cannot be met')
        ? '“Cannot be met”: even an early arrival is too late there. Take the lower choice.'
        : null,
      wayDownRead(timed.map(({ retreatText }) => retreatText)),
    ],
    table: {
      columns: ['Place', 'Turn back if not here by', 'Start down by', 'We passed at'],
      rows: timed.map(({ name, cutOffText, retreatText }) => [name, cutOffText, retreatText, '']),
    },
    ticks: [
      'Thunder, a sign of altitude illness, or wind or sight beyond the limits above: turn round, whatever the time.',
    ],
  });
}

function choices(facts: PlanFacts, units: UnitSystem): PageSection {
  const lower = facts.lowerChoice;
  const length = (metres: number | undefined) => (metres === undefined ? '' : lengthText(metres, units));
  const climb = (gainM: number | null | undefined) => (gainM == null ? '' : climbText(gainM, units));
  return section('The choices', {
    table: {
      columns: ['', 'First choice', 'Lower choice'],
      rows: [
        ['Route', facts.routeName, lower?.name ?? ''],
        ['Distance', length(facts.distanceM), length(lower?.distanceM)],
        ['Climb', climb(facts.gainM), climb(lower?.gainM)],
        ['How it fits', VERDICT_TEXT[facts.verdict], lower === null ? '' : VERDICT_TEXT[lower.verdict]],
      ],
    },
    lines: [facts.spareDate === null ? null : `Spare date: ${facts.spareDate}.`],
    blanks: facts.spareDate === null ? ['Spare date'] : [],
  });
}

function background({ lightning }: PlanFacts): Lines {
  if (lightning === null) return [];
  const pad = (hour: number) => `${String(hour).padStart(2, '0')}:00`;
  const shares = lightning.hours
    .filter(({ hour }) => hour >= 10 && hour < lightning.highestHour)
    .map(({ hour, shareOfHighest }) => `${percentText(shareOfHighest)} at ${pad(hour)}`);
  return citing(
    lightning.source,
    `Background, no forecast: in this month, of the lightning at ${pad(lightning.highestHour)}, ${shares.join(', ')} (${lightning.clock}; ${lightning.region}, the whole of it; on high tops it comes earlier).`,
  );
}

/**
 * The card that is filled in on the morning: the day's own thresholds, the times on the way, the second, lower choice
 * and who decides. What is not known is a blank line or the cautious reading.
 */
export function goNoGo(facts: PlanFacts, units: UnitSystem, design: Design): PeoplePage {
  const clock = (ms: number) => clockOn(ms, facts.zone, facts.date);
  const altitude = [headacheRule(facts, units, design), ...altitudeFlags(facts, units, design)].filter(
    (line) => line !== null,
  );
  return {
    title: `Go or not: ${facts.routeName}, ${facts.date}`,
    reader: 'leaders',
    sections: [
      section('This morning', {
        lines: [
          `Start ${clock(facts.startMs)}. ${facts.deadlineMs !== null ? `Everyone ${facts.checkpoints.some(({ kind }) => kind === 'treelineDown') ? 'below treeline' : 'back'} by ${clock(facts.deadlineMs)}.` : facts.aboveTreelineMin === 0 ? 'No ground above treeline.' : 'No deadline to be below treeline is known: be low by midday.'}`,
          ...background(facts),
        ],
        blanks: [
          'Forecast from (source), issued at',
          'Thunder from (time), chance',
          'Wind and gusts up high',
          'Seen here: sky, wind, how far we see, at what time',
          'Ground and snow, who told us',
          'Road',
          'How many are here: participants, leaders',
        ],
      }),
      noGo(facts, units, design),
      onTheWay(facts),
      choices(facts, units),
      ...(altitude.length > 0 ? [section('Altitude today', { lines: altitude })] : []),
      section('Decision', {
        lines: ['The lead leader decides, after hearing everyone.'],
        ticks: ['First choice', 'Lower choice', 'Spare date, or home'],
        blanks: ['Time', 'Lead leader, signature'],
      }),
      section('Cautions', { lines: allCautions(facts.party, units, design) }),
    ],
  };
}
