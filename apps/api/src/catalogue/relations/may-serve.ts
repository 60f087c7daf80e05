import type { MayServe } from '@corewright/contracts/relations';
import { Injectable } from '@nestjs/common';
import { Database } from '../../platform/database/database.js';
import { PartStock } from '../part-stock.js';
import { endsOf, nameIn, partsNamed, relationShown, relationsAround } from './relation.queries.js';
import { candidateWords, refusedWords } from './relation-words.js';
import { whatMayServe } from './what-may-serve.js';

/** Answers what may be fitted in place of a part, with what is in stores beside each. */
@Injectable()
export class MayServeAnswer {
  constructor(
    private readonly database: Database,
    private readonly stock: PartStock,
  ) {}

  /** null where the books do not know the part */
  async of(partId: string): Promise<MayServe | null> {
    const { links, isWhole } = await relationsAround(this.database, partId);
    const { candidates, refused } = whatMayServe(partId, links);
    const ids = candidates.map((candidate) => candidate.partId);
    const [parts, free, places] = await Promise.all([
      partsNamed(this.database, [partId, ...endsOf(links)]),
      this.stock.freeOf(this.database, ids),
      this.stock.placesOf(this.database, ids),
    ]);
    if (!parts.has(partId)) return null;
    return {
      part: nameIn(parts, partId),
      candidates: candidates.map((candidate) => {
        const path = candidate.path.map((step) => relationShown(step, parts));
        const together = candidate.together.map((id) => nameIn(parts, id));
        return {
          part: nameIn(parts, candidate.partId),
          as: candidate.as,
          words: candidateWords(candidate.as, path, together),
          path,
          conditions: path.map((step) => step.conditions).filter((words) => words !== ''),
          together,
          free: free.get(candidate.partId) ?? '0',
          unitOfMeasure: parts.get(candidate.partId)?.unitOfMeasure ?? 'each',
          places: places.get(candidate.partId) ?? '',
        };
      }),
      refused: refused.map(({ partId: id, why, path }) => {
        const steps = path.map((step) => relationShown(step, parts));
        return { part: nameIn(parts, id), why, words: refusedWords(why, steps), path: steps };
      }),
      complete: isWhole,
    };
  }
}
