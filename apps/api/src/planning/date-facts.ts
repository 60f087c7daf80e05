import type { Advice, CoveredLine } from '@corewright/contracts/coverage';
import type { Operation } from '@corewright/contracts/jobs';
import type { Reader } from '../platform/database/database.js';
import { type AdviceQuestion, advise } from './advise.js';
import { readCalendar } from './calendar.queries.js';
import { readOperationsOfJobs } from './job-card.queries.js';

/** What is asked of each job's date, but for its cover. */
export interface DateFacts {
  now: AdviceQuestion['now'];
  calendar: AdviceQuestion['calendar'];
  operations: ReadonlyMap<string, readonly Operation[]>;
}

/** Read once for as many jobs as are asked about. */
export async function readDateFacts(reader: Reader, now: DateFacts['now'], jobIds: readonly string[]): Promise<DateFacts> {
  const [operations, calendar] = await Promise.all([readOperationsOfJobs(reader, jobIds), readCalendar(reader)]);
  return { now, calendar, operations };
}

/** When a job with this cover can be promised. */
export function adviceOn(
  { id, state }: { id: string; state: string },
  lines: readonly CoveredLine[],
  { now, calendar, operations }: DateFacts,
): Advice {
  return advise({ now, calendar, operations: operations.get(id) ?? [], lines, state });
}
