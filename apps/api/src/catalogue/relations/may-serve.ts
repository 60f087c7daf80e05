import type { BuildStandard } from '@corewright/contracts/base';
import type { MayServe } from '@corewright/contracts/relations';
import { Injectable } from '@nestjs/common';
import { Database, type Reader } from '../../platform/database/database.js';
import type { Accepts } from '../build-standards/accepts.js';
import { buildStandardNamed } from '../build-standards/build-standard.queries.js';
import { PartStock } from '../part-stock.js';
import { type AcceptedStock, acceptedStock, servedByStandard } from './by-standard.js';
import {
  type PartStocked,
  partsNamed,
  relationShown,
  relationsAround,
  type StoredRelation,
  selectAround,
} from './relation.queries.js';
import { candidateWords, nameIn, refusedWords } from './relation-words.js';
import { type Candidate, whatMayServe } from './what-may-serve.js';

/** Answers what may be fitted in place of a part, with what is in stores beside each. */
@Injectable()
export class MayServeAnswer {
  /** Made at the first question: stores says how its stock is asked for only when all areas are there. */
  private aroundStatement: string | null = null;

  constructor(
    private readonly database: Database,
    private readonly stock: PartStock,
  ) {}

  /** @param named the build standard that is asked about; null for any. @returns null where the books do not know the part */
  async of(partId: string, named: BuildStandard | null): Promise<MayServe | null> {
    return this.database.together((reader) => this.answer(reader, partId, named));
  }

  private async answer(reader: Reader, partId: string, named: BuildStandard | null): Promise<MayServe | null> {
    this.aroundStatement ??= selectAround(this.stock.columns('parts.id'));
    const [{ links, isWhole, ...around }, standard] = await Promise.all([
      relationsAround(reader, this.aroundStatement, partId),
      named === null ? null : buildStandardNamed(reader, named),
    ]);
    const parts = around.parts.has(partId) ? around.parts : await this.alone(reader, partId);
    if (!parts.has(partId)) return null;
    const served = whatMayServe(partId, links);
    const { candidates, refused } = standard === null ? served : servedByStandard(served, standard.ways);
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
          free: (accepted ?? parts).get(candidate.partId)?.free ?? '0',
          unitOfMeasure: parts.get(candidate.partId)?.unitOfMeasure ?? 'each',
          places: parts.get(candidate.partId)?.places ?? '',
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

  /** A part that hangs together with no other. */
  private async alone(reader: Reader, partId: string): Promise<ReadonlyMap<string, PartStocked>> {
    const [parts, stock] = await Promise.all([partsNamed(reader, [partId]), this.stock.stockOf(reader, [partId])]);
    return new Map([...parts].map(([id, part]) => [id, { ...part, free: '0', places: '', ...stock.get(id) }]));
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
