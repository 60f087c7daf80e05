import type { BuildStandard } from '@corewright/contracts/base';
import type { MayServe } from '@corewright/contracts/relations';
import { Injectable } from '@nestjs/common';
import { Database, type Reader } from '../../platform/database/database.js';
import type { Accepts } from '../build-standards/accepts.js';
import { buildStandardNamed } from '../build-standards/build-standard.queries.js';
import { PartStock } from '../part-stock.js';
import { type AcceptedStock, acceptedStock, servedByStandard } from './by-standard.js';
import { nameIn, partsNamed, relationShown, relationsAround, type StoredRelation } from './relation.queries.js';
import { candidateWords, refusedWords } from './relation-words.js';
import { type Candidate, whatMayServe } from './what-may-serve.js';

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
    const [around, stockAround, standard] = await Promise.all([
      relationsAround(reader, partId),
      this.stock.stockAround(reader, partId),
      named === null ? null : buildStandardNamed(reader, named),
    ]);
    const { links, isWhole } = around;
    const parts = around.parts.has(partId) ? around.parts : await partsNamed(reader, [partId]);
    if (!parts.has(partId)) return null;
    const served = whatMayServe(partId, links);
    const { candidates, refused } = standard === null ? served : servedByStandard(served, standard.ways);
    const pieces = candidates.filter(({ as }) => as === 'in a kit').map((candidate) => candidate.partId);
    const stock = pieces.length === 0 ? stockAround : new Map([...stockAround, ...(await this.stock.stockOf(reader, pieces))]);
    const accepted = standard && (await this.acceptedOf(reader, candidates, standard));
    const steps = new Map(links.map((link) => [link, relationShown(link, parts)]));
    const shown = (path: readonly StoredRelation[]) => path.flatMap((link) => steps.get(link) ?? []);
    return {
      part: nameIn(parts, partId),
      standard: named,
      candidates: candidates.map((candidate) => {
        const path = shown(candidate.path);
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
        const way = shown(path);
        return { part: nameIn(parts, id), why, words: refusedWords(why, way), path: way };
      }),
      complete: isWhole,
    };
  }

  private async acceptedOf(
    reader: Reader,
    candidates: readonly Candidate[],
    standard: Accepts,
  ): Promise<ReadonlyMap<string, AcceptedStock>> {
    const partIds = candidates.map((candidate) => candidate.partId);
    return acceptedStock(await this.stock.freeLotsOf(reader, partIds), standard);
  }
}
