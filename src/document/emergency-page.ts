import type { Design } from '../design.ts';
import { geodesicM } from '../earth/geodesic.ts';
import { areMinors, leastLeaders, type PlanParty } from '../rank/party.ts';
import { decimalDegreesText, degreesMinutesText } from '../text/coordinate-text.ts';
import { durationText, heightText, lengthText, plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { altitudeCautions } from './altitude-cautions.ts';
import { citing, type PageSection, type PeoplePage, section, TRADE } from './people-page.ts';
import { decisionCautions, lightningCautions } from './plan-cautions.ts';
import type { PlanCheckpoint, PlanFacts } from './plan-facts.ts';

/** Two passes of one path lie so near each other, metres (design: the error of a receiver). */
const SAME_PLACE_M = 50;

/** A place that is passed twice is listed once. */
const distinctPlaces = (checkpoints: readonly PlanCheckpoint[]): PlanCheckpoint[] =>
  checkpoints.filter(
    (place, i) => !checkpoints.slice(0, i).some((before) => geodesicM(before, place) < SAME_PLACE_M),
  );

function places(checkpoints: readonly PlanCheckpoint[], units: UnitSystem): PageSection {
  return section('Say where you are', {
    lines: ['Read the figures one by one, and have them read back (WGS 84).'],
    table: {
      columns: ['Place', 'Height', 'Degrees', 'Degrees and minutes', 'Grid'],
      rows: checkpoints.map((checkpoint) => [
        checkpoint.name,
        checkpoint.elevationM === null ? '–' : heightText(checkpoint.elevationM, units),
        decimalDegreesText(checkpoint),
        degreesMinutesText(checkpoint),
        checkpoint.grid ?? '–',
      ]),
    },
  });
}

function waysOut(checkpoints: readonly PlanCheckpoint[], units: UnitSystem): PageSection {
  return section('The way out to a road', {
    lines: [
      'Times are for the group walking well. Carrying or helping someone takes many times as long: call early.',
      checkpoints.some(({ wayOut }) => wayOut === null)
        ? 'Empty rows are not worked out: fill them in from the map before the day.'
        : null,
    ],
    table: {
      columns: ['From', 'Way', 'Distance', 'Usual time', 'Late time'],
      rows: checkpoints.map(({ name, wayOut }) =>
        wayOut === null
          ? [name, '', '', '', '']
          : [
              name,
              wayOut.text,
              lengthText(wayOut.distanceM, units),
              durationText(wayOut.minutes.p50),
              durationText(wayOut.minutes.p90),
            ],
      ),
    },
  });
}

/**
 * Who stays with a hurt person and who goes for help, by the size of the party (common practice, no source): nobody
 * hurt is left alone, at least two go, and with minors every part has its leaders.
 */
export function whoStaysWhoGoes(party: PlanParty, design: Design): string[] {
  const { participants, leaders } = party;
  const people = participants + (leaders ?? 0);
  const least = leastLeaders(party, design);
  const decides = 'If no call gets through and help cannot wait, the lead leader decides.';
  if (people < 4) {
    return [
      `${plural(people, 'person', 'people')}: too few to divide. Stay together, keep warm, call and signal.`,
      decides,
    ];
  }
  if (least.mayDivide !== true) {
    const why =
      leaders === null
        ? 'Leaders not stated'
        : `${plural(leaders, 'leader')}, ${least.eachPart} needed in each part`;
    return [`${why}: the party does not divide. Stay together, keep warm, call and signal.`, decides];
  }
  const going = Math.max(2, least.eachPart);
  const leadersText = plural(least.eachPart, 'leader');
  const hurtLeader =
    (leaders ?? 0) - 1 < least.eachPart + least.whole
      ? 'If a leader is the one who is hurt, the party does not divide.'
      : 'A hurt leader does not count as one.';
  return [
    areMinors(party)
      ? `Only if no call gets through: ${plural(going, 'leader')} go for help, together, with this page and the time written down.`
      : `Only if no call gets through: at least ${going} go for help, together, ${leadersText} among them at least, with this page and the time written down.`,
    areMinors(party)
      ? `All the minors stay, with at least ${leadersText}. They keep warm and dry and stay where they said they are.`
      : `At least one who is well stays with the hurt person, and at least ${leadersText}. They keep warm and dry and stay where they said they are.`,
    hurtLeader,
    decides,
  ];
}

/** The page for when something goes wrong: whom to call, where we are, the way out, who stays and who goes. */
export function emergencyPage(facts: PlanFacts, units: UnitSystem, design: Design): PeoplePage {
  return {
    title: `If something goes wrong: ${facts.routeName}, ${facts.date}`,
    reader: 'leaders',
    sections: [
      section('First', {
        lines: [
          ...citing(
            TRADE,
            'Stop. Nobody else gets hurt: look up, look down, get away from edge, rockfall and lightning.',
            'Count everyone. Warm clothes on, everybody, the hurt person most: underneath too.',
            'Help as you were trained to, then call. Write down times.',
          ),
          ...citing(
            // Davis et al., Wilderness Environ Med 2014;25(4S):S86-S95: the usual order of help is turned round.
            'Davis 2014, from memory',
            'Struck by lightning: breathing stopped, resuscitate those first, at once, and go on. They may live. Nobody who was struck holds a charge.',
          ),
        ],
      }),
      section('Call', {
        lines: [
          'Phone coverage is not stated: take it that there is none. Try from open ground all the same; a text may go through where a call does not.',
          'Say: where, what happened, how many hurt, how many in the party, weather, how to reach you. Stay on the line until they hang up.',
          ...citing(
            'alpine distress signal, from memory',
            'No phone: six signals in a minute by whistle, light or cloth, a minute’s pause, again. The answer is three.',
          ),
        ],
        blanks: [
          'Emergency number of the place',
          'Mountain rescue or sheriff',
          'Program’s person on call',
          'Land manager',
          'Called at (time), answer',
        ],
      }),
      places(distinctPlaces(facts.checkpoints), units),
      waysOut(
        facts.checkpoints.filter(({ kind }) => kind !== 'trailhead' && kind !== 'end'),
        units,
      ),
      section('Who stays, who goes', {
        lines: citing(TRADE, ...whoStaysWhoGoes(facts.party, design)),
      }),
      section('Cautions', {
        lines: [
          ...altitudeCautions(facts.party),
          ...lightningCautions(units),
          ...decisionCautions(facts.party, design),
        ],
      }),
    ],
  };
}
