import type { InsteadOfPart } from '@corewright/contracts/substitutes';
import { serversOf } from '../catalogue/relations/served-by.js';
import { substitutesOfJobs } from '../jobs/accept-substitute/substitute.queries.js';
import { offersFor } from '../jobs/offers-for-line.js';
import type { Reader } from '../platform/database/database.js';
import { type LineForScan, linesOfJob } from './scan-facts.js';

/** A line that asks for another part than was scanned, and that the scanned part may serve. */
export interface LineInstead {
  line: LineForScan;
  instead: InsteadOfPart;
}

/** The lines of a job that a part may serve in place of what they ask for, those that need no further word first. */
export async function linesInstead(reader: Reader, jobId: string, partId: string): Promise<LineInstead[]> {
  const [lines, substitutes] = await Promise.all([linesOfJob(reader, jobId), substitutesOfJobs(reader, [jobId])]);
  const servers = await serversOf(
    reader,
    lines.map((line) => line.partId),
  );
  return lines
    .flatMap((line): LineInstead[] => {
      const { offers } = offersFor(line, servers.get(line.partId) ?? [], substitutes);
      const instead = offers.find((offer) => offer.partId === partId)?.instead ?? null;
      return instead === null ? [] : [{ line, instead }];
    })
    .toSorted((a, b) => Number(b.instead.isAccepted) - Number(a.instead.isAccepted));
}
