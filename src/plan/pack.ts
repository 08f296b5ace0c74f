import type { Design } from '../design.ts';

export type PackLevel = 'withinTarget' | 'overTarget' | 'warning' | 'conflict';
type Shares = Design['supplies']['packShare'];

export interface PackParts {
  readonly kitKg: number;
  readonly waterKg: number;
  readonly foodKg: number;
}

export interface Pack extends PackParts {
  readonly totalKg: number;
  readonly bodyKg: number;
  /** Pack over body mass. */
  readonly share: number;
  readonly level: PackLevel;
}

/** One way to a lighter pack, taken alone, or all of them together. */
export interface Relief {
  readonly kind: 'refill' | 'sharedKit' | 'adultsCarry' | 'together';
  readonly savesEachKg: number;
  readonly pack: Pick<Pack, 'totalKg' | 'share' | 'level'>;
  /** What it makes of each leader's pack; `null`: no leader, or no change there. */
  readonly leader: { readonly addsKg: number; readonly totalKg: number; readonly share: number } | null;
}

export interface ReliefQuestion {
  readonly pack: Pack;
  readonly minors: boolean;
  /** Kit of the group in the participant's pack. */
  readonly sharedKitKg: number;
  /** Saved by each where the stated water points run; 0: none. */
  readonly refillSavesKg: number;
  readonly participants: number;
  /** Leaders and the pack of one; `null`: none, or not stated how many. */
  readonly leaders: { readonly count: number; readonly pack: Pack } | null;
}

/**
 * The level of a pack. Minors: target 10 % of body mass, warned from 15 %, a conflict from 20 % (experts' 10 to 20 %
 * for children, AOTA at most 10 %, a hospital physician's 15 and 20 % for conditioned youth: sources.md §8; nobody
 * is ruled out by it). Adults: target 20 %, the load with clothing that US Army FM 21-20 begins marches with; warned
 * above it.
 */
function packLevel(share: number, minors: boolean, shares: Shares): PackLevel {
  if (!minors) return share > shares.adultTarget ? 'warning' : 'withinTarget';
  if (share >= shares.minorConflict) return 'conflict';
  if (share >= shares.minorWarn) return 'warning';
  return share > shares.minorTarget ? 'overTarget' : 'withinTarget';
}

/**
 * A pack for a body mass, kg.
 * @throws RangeError on a body mass that is not above 0.
 */
export function packOf(parts: PackParts, bodyKg: number, minors: boolean, shares: Shares): Pack {
  if (!(bodyKg > 0)) throw new RangeError(`a body mass of ${bodyKg} kg is not above 0`);
  const totalKg = parts.kitKg + parts.waterKg + parts.foodKg;
  const share = totalKg / bodyKg;
  return { ...parts, totalKg, bodyKg, share, level: packLevel(share, minors, shares) };
}

/**
 * The ways out of a pack that is too heavy, in numbers: each alone, then all together. Empty below the warning.
 * What the adults take is what brings the pack to the warning; together they take no more than their own target
 * allows.
 */
export function packReliefs(question: ReliefQuestion, shares: Shares): Relief[] {
  const { pack, minors, participants, leaders, refillSavesKg } = question;
  if (pack.level === 'withinTarget' || pack.level === 'overTarget') return [];
  const relief = (kind: Relief['kind'], savesEachKg: number, addsKg: number | null): Relief => {
    const totalKg = pack.totalKg - savesEachKg;
    const share = totalKg / pack.bodyKg;
    const after = { totalKg, share, level: packLevel(share, minors, shares) };
    if (leaders === null || addsKg === null) return { kind, savesEachKg, pack: after, leader: null };
    const heavyKg = leaders.pack.totalKg + addsKg;
    const leader = { addsKg, totalKg: heavyKg, share: heavyKg / leaders.pack.bodyKg };
    return { kind, savesEachKg, pack: after, leader };
  };
  const reliefs: Relief[] = [];
  if (refillSavesKg > 0) reliefs.push(relief('refill', refillSavesKg, null));
  // Among adults there is nobody else to hand a load to.
  if (!minors || leaders === null || participants === 0) return reliefs;
  const perLeader = participants / leaders.count;
  const sharedKg = Math.min(question.sharedKitKg, pack.kitKg);
  const goalKg = shares.minorWarn * pack.bodyKg;
  if (sharedKg > 0) reliefs.push(relief('sharedKit', sharedKg, sharedKg * perLeader));
  const overKg = Math.max(0, pack.totalKg - goalKg);
  reliefs.push(relief('adultsCarry', overKg, overKg * perLeader));
  // The leaders refill too, so their packs are lighter by as much.
  const spareKg = shares.adultTarget * leaders.pack.bodyKg - leaders.pack.totalKg + refillSavesKg;
  const wantedKg = Math.max(sharedKg, overKg - refillSavesKg);
  const takenEachKg = Math.max(0, Math.min(wantedKg, spareKg / perLeader));
  reliefs.push(relief('together', refillSavesKg + takenEachKg, takenEachKg * perLeader - refillSavesKg));
  return reliefs;
}
