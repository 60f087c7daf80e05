import { evidenceFor } from './evidence.js';
import type { KnownType, Reading } from './known-type.js';

export interface Candidate {
  typeId: string;
  name: string;
  points: number;
  /** sentences, the weightiest first */
  speaksFor: string[];
  speaksAgainst: string[];
}

export interface Ranking {
  /** those that something read speaks for or against, the likeliest first */
  candidates: Candidate[];
  /** those of which nothing that was read says anything */
  open: Candidate[];
  /** those that a reading contradicts; if it is read right, they are not it */
  ruledOut: Candidate[];
}

/**
 * Ranks the types by what was read. A rule of ours: a type's points are the sum over all that was read of what speaks for it, less what
 * speaks against it,
 *
 *   points = Σ for − Σ against,
 *
 * with 8 for a whole serial within its range and 3 for one partly read, 1, 3 or 6 for a mark, feature or count by its weight (half, rounded
 * up, where a mark was partly read), 4 for the same teeth, 2 for the same ratio, 2 for the maker. Against it count a feature or count seen to be
 * otherwise by its weight, another ratio 2, another maker 2. A serial outside its ranges, or a decisive feature or count seen to be otherwise, rules
 * the type out, whatever else speaks for it. What was not read counts for nothing either way. Equal points go by name.
 */
export function rankTypes(types: readonly KnownType[], reading: Reading): Ranking {
  const ranking: Ranking = { candidates: [], open: [], ruledOut: [] };
  for (const type of types) {
    const evidence = evidenceFor(type, reading).sort((one, other) => Math.abs(other.points) - Math.abs(one.points));
    const candidate: Candidate = {
      typeId: type.id,
      name: type.name,
      points: evidence.reduce((sum, { points }) => sum + points, 0),
      speaksFor: evidence.filter(({ points }) => points > 0).map(({ sentence }) => sentence),
      speaksAgainst: evidence.filter(({ points }) => points < 0).map(({ sentence }) => sentence),
    };
    const where = evidence.some((each) => each.rulesOut) ? 'ruledOut' : evidence.length === 0 ? 'open' : 'candidates';
    ranking[where].push(candidate);
  }
  for (const candidates of Object.values(ranking) as Candidate[][]) candidates.sort(byPoints);
  return ranking;
}

function byPoints(one: Candidate, other: Candidate): number {
  if (one.points !== other.points) return other.points - one.points;
  if (one.name !== other.name) return one.name < other.name ? -1 : 1;
  return one.typeId < other.typeId ? -1 : 1;
}
