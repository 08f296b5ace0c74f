import { MIN_PER_H, type UnitSystem } from '../../units.ts';
import { numberOf, textOf } from '../form-values.ts';

/** The fields of a day that are called otherwise in the form. */
export const OUTING_FIELDS: Readonly<Record<string, string>> = {
  distanceM: 'distance',
  distanceKm: 'distance',
  distanceMi: 'distance',
  gainM: 'gain',
  gainFt: 'gain',
  movingMin: 'hours',
  maxElevationM: 'top',
  maxElevationFt: 'top',
};

/** The lines of a text that say something; `null`: none does. */
export const linesOf = (text: string | null): string[] | null => {
  const lines = (text ?? '').split(/\r\n?|\n/).map((line) => line.trim());
  const said = lines.filter((line) => line !== '');
  return said.length === 0 ? null : said;
};

/** Who was there; `null`: not said. */
export function membersOf(form: URLSearchParams): string[] | null {
  const labels = form.getAll('members');
  return labels.length === 0 ? null : labels;
}

/** What is no number stays the text that it is, for the reader of the whole to refuse it. */
function movingMinOf(hours: number | string | null, minutes: number | string | null) {
  if (typeof hours === 'string') return hours;
  if (typeof minutes === 'string') return minutes;
  return hours === null && minutes === null ? null : (hours ?? 0) * MIN_PER_H + (minutes ?? 0);
}

/** A day entered by hand, as the context reads it. */
export function dayByHand(form: URLSearchParams, units: UnitSystem): unknown {
  const isUs = units === 'us';
  return {
    date: textOf(form, 'date') ?? '',
    [isUs ? 'distanceMi' : 'distanceKm']: numberOf(form, 'distance'),
    [isUs ? 'gainFt' : 'gainM']: numberOf(form, 'gain'),
    movingMin: movingMinOf(numberOf(form, 'hours'), numberOf(form, 'minutes')),
    [isUs ? 'maxElevationFt' : 'maxElevationM']: numberOf(form, 'top'),
    rockClass: textOf(form, 'rockClass'),
    members: membersOf(form),
    turnedBecause: textOf(form, 'turnedBecause'),
    nearMisses: linesOf(textOf(form, 'nearMisses')),
    ...(form.get('confirmed') === 'true' ? { confirmed: true } : {}),
  };
}
