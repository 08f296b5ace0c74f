import { EngineError } from '../errors.ts';
import { INGEST_LIMITS } from './limits.ts';

/**
 * Counts points while the guard passes over the tags, so that a file with too many is refused before
 * it is parsed. A tag that repeats the one before it is a point at the same place and counts for the
 * file alone, as in the repair.
 * @throws EngineError `too-many-points`.
 */
export class GpxPointCount {
  private inFile = 0;
  private inRoute = 0;
  private lastTag = '';

  open(localName: string, tag: string): void {
    if (localName === 'trk' || localName === 'rte') {
      this.inRoute = 0;
      this.lastTag = '';
    } else if (localName === 'trkpt' || localName === 'rtept') {
      this.inFile += 1;
      if (tag !== this.lastTag) this.inRoute += 1;
      this.lastTag = tag;
      this.checkFile();
      if (this.inRoute > INGEST_LIMITS.pointsPerRoute) throw tooMany('track', INGEST_LIMITS.pointsPerRoute);
    } else if (localName === 'wpt') {
      this.inFile += 1;
      this.checkFile();
    }
  }

  private checkFile(): void {
    if (this.inFile > INGEST_LIMITS.pointsPerFile) throw tooMany('file', INGEST_LIMITS.pointsPerFile);
  }
}

function tooMany(holder: string, limit: number): EngineError {
  return new EngineError(
    'too-many-points',
    `The ${holder} holds more than ${limit} points. Thin the line to one point every few metres, or split it.`,
    { limit, found: limit + 1 },
  );
}
