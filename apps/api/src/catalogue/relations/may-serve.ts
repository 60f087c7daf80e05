import type { BuildStandard } from '@corewright/contracts/base';
import type { MayServe } from '@corewright/contracts/relations';
import { Injectable } from '@nestjs/common';
import { Database, type Reader } from '../../platform/database/database.js';
import type { Accepts } from '../build-standards/accepts.js';
import { buildStandardNamed } from '../build-standards/build-standard.queries.js';
import { PartStock } from '../part-stock.js';
import { type AcceptedStock, acceptedStock, servedByStandard } from './by-standard.js';
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

  /** @param named the build standard that is asked about; null for any. @returns null where the books do not know the part */
  async of(partId: string, named: BuildStandard | null): Promise<MayServe | null> {
    return this.database.together((reader) => this.answer(reader, partId, named));
  }

  private async answer(reader: Reader, partId: string, named: BuildStandard | null): Promise<MayServe | null> {
    const [{ links, isWhole }, standard] = await Promise.all([
      relationsAround(reader, partId),
      named === null ? null : buildStandardNamed(reader, named),
    ]);
    const served = whatMayServe(partId, links);
    const { candidates, refused } = standard === null ? served : servedByStandard(served, standard.ways);
    const ids = candidates.map((candidate) => candidate.partId);
    const [parts, stock, accepted] = await Promise.all([
      partsNamed(reader, [partId, ...endsOf(links)]),
      this.stock.stockOf(reader, ids),
      standard && this.acceptedOf(reader, ids, standard),
    ]);
    if (!parts.has(partId)) return null;
    return {
      part: nameIn(parts, partId),
      standard: named,
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
          free: (accepted ?? stock).get(candidate.partId)?.free ?? '0',
          unitOfMeasure: parts.get(candidate.partId)?.unitOfMeasure ?? 'each',
          places: stock.get(candidate.partId)?.places ?? '',
          declined: accepted?.get(candidate.partId)?.declined ?? [],
        };
      }),
      refused: refused.map(({ partId: id, why, path }) => {
        const steps = path.map((step) => relationShown(step, parts));
        return { part: nameIn(parts, id), why, words: refusedWords(why, steps), path: steps };
      }),
      complete: isWhole,
    };
  }

  private async acceptedOf(
    reader: Reader,
    partIds: readonly string[],
    standard: Accepts,
  ): Promise<ReadonlyMap<string, AcceptedStock>> {
    return acceptedStock(await this.stock.freeLotsOf(reader, partIds), standard);
  }
}
