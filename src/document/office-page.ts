import { callOutAfter } from '../day/day-plan.ts';
import type { Design } from '../design.ts';
import { leastLeaders } from '../rank/party.ts';
import { decimalDegreesText } from '../text/coordinate-text.ts';
import { clockOn, durationText, lengthText, plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { type PeoplePage, section } from './people-page.ts';
import { decisionCautions, leastLeadersText, minorsCautions } from './plan-cautions.ts';
import type { PlanFacts } from './plan-facts.ts';

/** Lines for leaders on one sheet (design). */
const MOST_LEADER_LINES = 12;

const IN_ORDER = [
  'Consent of every parent or guardian, or of each adult',
  'Medical form of everyone, read by the lead leader',
  'First-aid certificates of the leaders valid on this date',
  'Permit and party limit checked',
  'Forecast read this morning, the morning card filled in',
  'Phone, spare battery or beacon tried',
  'Overdue times agreed with the lead leader',
];

/** The page for whoever waits at home: who as counts alone, where, when overdue, whom to call, what is in order. */
export function officePage(facts: PlanFacts, units: UnitSystem, design: Design): PeoplePage {
  const { party, checkpoints } = facts;
  const clock = (ms: number) => clockOn(ms, facts.zone, facts.date);
  // Nobody worries before the late time back; help is called the program's margin after it (design).
  const askMs = facts.back.p90Ms;
  const callOutMs = callOutAfter(facts.back, design);
  const least = leastLeaders(party, design);
  const [start] = checkpoints;
  const few = party.leaders !== null && party.leaders < least.whole;
  // Blank lines for as many as go, and at least for as many as must.
  const leaderLines = Math.min(MOST_LEADER_LINES, Math.max(party.leaders ?? 0, least.whole));
  return {
    title: `Kept at the office: ${facts.routeName}, ${facts.date}`,
    reader: 'office',
    sections: [
      section('Who', {
        lines: [
          `${plural(party.participants, 'participant')}${party.ageBand === null ? ' (age band not stated)' : party.ageBand === 'adult' ? ', adults' : `, aged ${party.ageBand.replace('-', ' to ')}`}; ${party.leaders === null ? 'leaders not stated' : plural(party.leaders, 'leader')}.`,
          few ? `Fewer leaders than the ${least.whole} that this party needs.` : null,
          'The list of people is kept under the program’s own rules, not on this sheet.',
        ],
        blanks: [
          ...Array.from({ length: leaderLines }, (_, index) =>
            index === 0 ? 'Lead leader, phone' : `Leader ${index + 1}, phone`,
          ),
          'Where the list of people and their contacts lies',
        ],
      }),
      section('Where', {
        lines: [
          `${facts.routeName}${facts.trailheadName === null ? '' : `, from ${facts.trailheadName}`}, ${lengthText(facts.distanceM, units)}.`,
          start === undefined
            ? null
            : `Start at ${decimalDegreesText(start)}${start.grid === null ? '' : `, grid ${start.grid}`}.`,
          facts.lowerChoice === null ? null : `If not there: ${facts.lowerChoice.name}.`,
          facts.roadStatus === null ? null : `Road: ${facts.roadStatus}.`,
        ],
        blanks: [
          ...(facts.lowerChoice === null ? ['Lower choice, if they take it'] : []),
          'Vehicles: make, colour, plate',
          'Road and parking',
        ],
      }),
      section('When', {
        lines: [
          facts.meetMs === null ? null : `Meet ${clock(facts.meetMs)}.`,
          `Start ${clock(facts.startMs)}. Expected back at the end of the route ${clock(facts.back.p50Ms)}; in nine days of ten by ${clock(facts.back.p90Ms)}.`,
          facts.home === null
            ? null
            : `Back at the meeting place about ${clock(facts.home.p50Ms)}; in nine days of ten by ${clock(facts.home.p90Ms)}.`,
          'They ring from the trailhead at the start, and when back, before they drive.',
          `Not heard of by ${clock(askMs)}: ring the leaders, then whoever may have seen them.`,
          `Not heard of by ${clock(callOutMs)} (${durationText(design.cards.callOutAfterLateMin)} more): call for help. Do not wait longer because of doubt.`,
        ],
        blanks: ['They rang at the start', 'They rang when back'],
      }),
      section('Whom to call', {
        blanks: [
          'Emergency number of the place',
          'Mountain rescue or sheriff',
          'Land manager',
          'Program’s person on call',
          'Who tells the families',
        ],
      }),
      section('In order before they leave', { ticks: IN_ORDER }),
      section('Cautions', {
        // Who divides the party where is the leaders' question; one sheet is enough for the office.
        lines: [...minorsCautions(party), ...decisionCautions(party, design)].filter(
          ({ text }) => text !== leastLeadersText(party, design),
        ),
      }),
    ],
  };
}
