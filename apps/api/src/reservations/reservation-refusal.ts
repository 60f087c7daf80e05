import type { ReservationProblem } from '@corewright/contracts/reservations';
import { jobsNamed } from '../bench/scan-facts.js';
import { expectedClaimsOn } from '../buying/expected-claims.js';
import type { Reader } from '../platform/database/database.js';
import type { Refusal } from '../platform/refusal.js';
import { claimsOn } from '../stores/ledger.js';
import type { Problem } from './decide-reserve.js';

/** As many as anybody reads at once. */
const saidMax = 4;

/** Why nothing was reserved: each line by its number, what is wrong, and who has what is wanted. */
export async function refusalOfProblems(reader: Reader, jobId: string, problems: readonly Problem[]): Promise<Refusal> {
  const shown: ReservationProblem[] = [];
  for (const problem of problems) shown.push(await shownProblem(reader, jobId, problem));
  const said = shown.slice(0, saidMax).map((each) => `${calledLine(problems, each)}${each.words}`);
  const more = shown.length > saidMax ? [`And ${shown.length - saidMax} more lines.`] : [];
  return {
    status: 409,
    code: shown[0]?.code ?? 'not-reserved',
    title: 'Not reserved',
    detail: [...said, ...more, 'Nothing was reserved.'].join(' '),
    values: { problems: shown },
  };
}

function calledLine(problems: readonly Problem[], { lineId }: ReservationProblem): string {
  const line = problems.find((problem) => problem.line?.id === lineId && lineId !== null)?.line;
  return line ? `Line ${line.lineNo}, ${line.name}: ` : '';
}

async function shownProblem(reader: Reader, jobId: string, problem: Problem): Promise<ReservationProblem> {
  const { asked, line, code, words } = problem;
  const [otherJob = null] = await jobsNamed(reader, await claimantsOf(reader, jobId, problem));
  return {
    lineId: asked.lineId,
    lineNo: line?.lineNo ?? null,
    thingId: 'thingId' in asked ? asked.thingId : null,
    receiptId: 'receiptId' in asked ? asked.receiptId : null,
    // what only this job has claimed is with no other
    code: code === 'claimed-for-another-job' && otherJob === null ? 'not-enough' : code,
    words: otherJob === null ? words : `${words} It is promised to “${otherJob.name}”.`,
    otherJob,
  };
}

async function claimantsOf(reader: Reader, jobId: string, { asked, isClaimed, claimants }: Problem): Promise<string[]> {
  if (!isClaimed) return [...claimants];
  const claims =
    'thingId' in asked
      ? (await claimsOn(reader, asked.thingId)).map(({ claimantId }) => claimantId)
      : (await expectedClaimsOn(reader, [asked.receiptId])).map(({ jobId: id }) => id);
  return [...new Set(claims)].filter((id) => id !== jobId);
}
