import type { InsteadOfPart } from '@corewright/contracts/substitutes';
import type { LineAccepts } from '../catalogue/build-standards/line-accepts.js';
import type { Server } from '../catalogue/relations/served-by.js';
import type { SubstituteOfLine } from './accept-substitute/substitute.queries.js';

/** A part from which a line may be covered; `instead` is null for the very part that it asks for. */
export interface Offer {
  partId: string;
  instead: InsteadOfPart | null;
}

/** A part that a relation leads to and that the line does not take. */
export interface Declined {
  part: Server['part'];
  words: string;
}

export interface AskingLine extends Pick<LineAccepts, 'ways' | 'buildStandard'> {
  id: string;
  partId: string;
}

/**
 * From what a line may be covered, in the order of comfort: the part itself, what is the same, what supersedes it, what will serve for
 * it, of these the accepted ones first. What somebody accepted for this very line is taken whatever the build standard says of such ways.
 */
export function offersFor(
  line: AskingLine,
  servers: readonly Server[],
  substitutes: readonly SubstituteOfLine[],
): { offers: Offer[]; declined: Declined[] } {
  const accepted = substitutes.filter((each) => each.lineId === line.id).map(acceptedOffer);
  const isAccepted = (partId: string) => accepted.some((offer) => offer.partId === partId);
  const others = servers.filter((server) => !isAccepted(server.part.id));
  const isTaken = ({ ways }: Server) => ways.every((way) => line.ways.includes(way));
  const taken = others.filter(isTaken).map(offerOf);
  const declined = others
    .filter((server) => !isTaken(server))
    .map(({ part, words }) => ({
      part,
      words: `${words} A job built ${line.buildStandard} does not take that unless somebody accepts it for the line.`,
    }));
  const plain = taken.filter(({ instead }) => instead?.isAccepted);
  const conditional = taken.filter(({ instead }) => !instead?.isAccepted);
  return { offers: [{ partId: line.partId, instead: null }, ...plain, ...accepted, ...conditional], declined };
}

/** What is the same, or superseding, needs no further word, unless it is known to differ. */
function offerOf({ part, as, words, conditions, doubt }: Server): Offer {
  const said = doubt === '' ? words : `${words} But: ${doubt}`;
  return { partId: part.id, instead: { part, as, words: said, conditions, isAccepted: as !== 'will serve for' && doubt === '' } };
}

function acceptedOffer({ part, acceptedBy, evidence, deviation }: SubstituteOfLine): Offer {
  return {
    partId: part.id,
    instead: {
      part,
      as: 'will serve for',
      words: `Accepted for this line by ${acceptedBy}, ${evidence.kind}: ${evidence.words}.`,
      conditions: deviation,
      isAccepted: true,
    },
  };
}
