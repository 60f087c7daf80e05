import type { ServingWay } from '@corewright/contracts/build-standards';
import type { PartNamed } from '@corewright/contracts/relations';
import type { Reader } from '../../platform/database/database.js';
import { linksAround, type StoredLink } from './relation.queries.js';
import { nameIn, relationWords } from './relation-words.js';
import { waysOf, whatMayServe } from './what-may-serve.js';

/** A part that may serve in place of one that is wanted, and on what word. */
export interface Server {
  part: PartNamed;
  as: ServingWay;
  /** of every step to it */
  ways: readonly ServingWay[];
  /** the way from the wanted part to it, in sentences */
  words: string;
  conditions: string;
  /** in what a step that is called the same is known to differ; else empty */
  doubt: string;
}

/**
 * What may serve in place of each of these parts, the plainest way first, as far as it is counted alike. What serves only as a piece of a kit is left out: it takes the
 * place of one part with others together.
 */
export async function serversOf(reader: Reader, partIds: readonly string[]): Promise<ReadonlyMap<string, readonly Server[]>> {
  const { links, parts } = await linksAround(reader, [...new Set(partIds)]);
  const servers = new Map<string, Server[]>();
  for (const wantedId of partIds) {
    const isCountedOtherwise = (partId: string) => parts.get(partId)?.unitOfMeasure !== parts.get(wantedId)?.unitOfMeasure;
    const found = whatMayServe(wantedId, links).candidates.flatMap(({ partId, as, path }): Server[] => {
      if (as === 'itself' || as === 'in a kit' || isCountedOtherwise(partId)) return [];
      const said = (step: StoredLink) => relationWords(step, nameIn(parts, step.fromId), nameIn(parts, step.toId));
      return [
        {
          part: nameIn(parts, partId),
          as,
          ways: waysOf(path),
          words: path.map(said).join(' '),
          conditions: joined(path.map((step) => step.conditions)),
          doubt: joined(path.map((step) => step.doubt)),
        },
      ];
    });
    if (found.length > 0) servers.set(wantedId, found);
  }
  return servers;
}

function joined(words: readonly string[]): string {
  return words.filter((each) => each !== '').join('; ');
}
