import type { CoveredLine } from '@corewright/contracts/coverage';
import type { JobWorseOff, LineWorseOff } from '@corewright/contracts/selling';
import { formatDecimal, subtractDecimals, sumDecimals } from '@corewright/quantities/decimal';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { coverOfJobs } from '../coverage/cover-lines.js';
import type { WantingJob, WorkshopFacts } from '../coverage/coverage-facts.js';
import { readWorkshopFacts } from '../coverage/read-workshop.js';
import { shareOut } from '../coverage/share-out.js';
import { linesThatDiffer } from '../coverage/what-if/compare-standings.js';
import { type Gone, goodsGone } from '../coverage/what-if/suppositions.js';
import type { Moment } from '../people/workshop.js';
import { adviceOn, readDateFacts } from '../planning/date-facts.js';
import type { Reader } from '../platform/database/database.js';
import { partsOfThings } from '../warnings/touched.js';
import type { SaleLinePlan } from './decide-sale.js';

/** A job with those of its lines that the sale would leave worse off. */
interface Loss {
  job: WantingJob;
  lines: LineWorseOff[];
}

/** The lines of open jobs that would be worse off if this were sold; by reservations and by what they only count on. */
export async function linesWorseOff(reader: Reader, today: string, plans: readonly SaleLinePlan[]): Promise<Loss[]> {
  const partIds = await partsOfThings(
    reader,
    plans.map(({ goods }) => goods.thing.id),
  );
  if (partIds.length === 0) return [];
  const facts = await readWorkshopFacts(reader, today, { jobIds: [], partIds });
  return compare(facts, goodsGone(facts, plans.map(goneOf)));
}

/** The same with what it means for the date of each of these jobs. */
export async function jobsWorseOff(reader: Reader, now: Moment, plans: readonly SaleLinePlan[]): Promise<JobWorseOff[]> {
  const losses = await linesWorseOff(reader, now.date, plans);
  if (losses.length === 0) return [];
  const jobIds = losses.map(({ job }) => job.id);
  const partIds = await partsOfThings(
    reader,
    plans.map(({ goods }) => goods.thing.id),
  );
  const facts = await readWorkshopFacts(reader, now.date, { jobIds, partIds });
  const dates = await readDateFacts(reader, now, jobIds);
  const [before, after] = [facts, goodsGone(facts, plans.map(goneOf))].map((each) => coverOfJobs(shareOut(each)));
  const dateOf = (job: WantingJob, cover: ReadonlyMap<string, readonly CoveredLine[]> | undefined) => {
    const { kind, date, sentence } = adviceOn(job, cover?.get(job.id) ?? [], dates);
    return date === null ? sentence : `${formatPlainDate(date)}${kind === 'if' ? ', if all goes so' : ''}`;
  };
  return losses.map(({ job, lines }) => ({
    job: { id: job.id, code: job.code, name: job.title },
    dateGiven: job.dateGiven,
    dateNow: dateOf(job, before),
    dateThen: dateOf(job, after),
    lines,
  }));
}

function compare(facts: WorkshopFacts, then: WorkshopFacts): Loss[] {
  const [before, after] = [coverOfJobs(shareOut(facts)), coverOfJobs(shareOut(then))];
  return facts.jobs.flatMap((job) => {
    const lines = linesThatDiffer(before.get(job.id) ?? [], after.get(job.id) ?? [])
      .filter(({ turn }) => turn === 'worse')
      .map(({ id, lineNo, part, critical, before: was, after: would }) => ({
        lineId: id,
        lineNo,
        part: { id: part.id, name: part.name, number: part.number },
        critical,
        before: sharesInWords(was),
        after: sharesInWords(would),
      }));
    return lines.length === 0 ? [] : [{ job, lines }];
  });
}

/** "2 free in stores, 1 lacking" */
function sharesInWords({ shares }: Pick<CoveredLine, 'shares'>): string {
  return shares.map(({ quantity, state }) => `${quantity} ${state}`).join(', ');
}

function goneOf({ goods, quantity, takes }: SaleLinePlan): Gone {
  const taken = sumDecimals(takes.map((each) => each.quantity));
  return {
    thingId: goods.thing.id,
    ofFree: formatDecimal(subtractDecimals(quantity, taken)),
    ofClaims: new Map(takes.map((each) => [each.claimId, formatDecimal(each.quantity)])),
  };
}
