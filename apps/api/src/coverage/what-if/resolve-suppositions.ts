import type { BuildStandard } from '@corewright/contracts/base';
import type { Supposition } from '@corewright/contracts/what-if';
import { decimalFrom, formatDecimal, zero } from '@corewright/quantities/decimal';
import { addDays, formatPlainDate, type PlainDate } from '@corewright/quantities/plain-date';
import { readReceipt } from '../../buying/receipt.queries.js';
import { acceptsOfLinesUnder } from '../../catalogue/build-standards/line-accepts.js';
import { jobBrief, spoken } from '../../jobs/job.queries.js';
import type { Reader } from '../../platform/database/database.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { type CoreToBreak, coresToBreak } from '../buildable/buildable.queries.js';
import type { WantingJob, WorkshopFacts } from '../coverage-facts.js';
import { donorFactsOf, donorsOf } from '../donor-facts.js';
import { expectedOf } from '../sources.js';
import { cannotSuppose } from './contradictions.js';
import { insteadOf } from './resolve-instead.js';
import type { BrokenDonor, Resolved, Supposed } from './suppositions.js';

type Of<Kind extends Supposition['kind']> = Extract<Supposition, { kind: Kind }>;

/** What is supposed, looked up in the books; refused where it names what is not there. */
export async function resolveSuppositions(
  reader: Reader,
  facts: WorkshopFacts,
  suppositions: readonly Supposition[],
): Promise<Result<{ supposed: Supposed; words: readonly string[] }>> {
  const resolved: Resolved[] = [];
  for (const supposition of suppositions) {
    const one = await resolve(reader, facts, supposition);
    if (!one.ok) return one;
    resolved.push(one.value);
  }
  const broken = resolved.flatMap((each) => each.broken ?? []);
  const brokenIds = suppositions.flatMap((each) => (each.kind === 'core' ? [each.unitId] : []));
  return done({
    words: resolved.map(({ words }) => words),
    supposed: {
      first: resolved.flatMap((each) => each.first ?? []),
      accepts: new Map(resolved.flatMap((each) => [...(each.accepts ?? [])])),
      broken,
      donorsLeft: brokenIds.length === 0 ? facts.donors : await donorsOf(reader, partsOf(facts), brokenIds),
      orders: new Map(resolved.flatMap((each) => [...(each.orders ?? [])])),
      substitutes: resolved.flatMap((each) => each.substitutes ?? []),
    },
  });
}

function resolve(reader: Reader, facts: WorkshopFacts, supposition: Supposition): Promise<Result<Resolved>> {
  switch (supposition.kind) {
    case 'first':
      return firstOf(reader, facts, supposition);
    case 'standard':
      return standardOf(reader, facts, supposition);
    case 'core':
      return coreOf(reader, facts, supposition);
    case 'order-late':
    case 'order-on':
    case 'order-never':
      return orderOf(reader, facts, supposition);
    case 'instead':
    case 'instead-everywhere':
      return insteadOf(reader, facts, supposition);
  }
}

/** Every part of which one may be given to a line. */
function partsOf({ lines, servers, substitutes, stock }: WorkshopFacts): string[] {
  return [
    ...new Set([
      ...lines.map(({ partId }) => partId),
      ...[...servers.values()].flat().map(({ part }) => part.id),
      ...substitutes.map(({ part }) => part.id),
      ...stock.map(({ partId }) => partId),
    ]),
  ];
}

async function openJob(reader: Reader, facts: WorkshopFacts, id: string): Promise<Result<WantingJob>> {
  const open = facts.jobs.find((job) => job.id === id);
  if (open !== undefined) return done(open);
  const job = await jobBrief(reader, id);
  if (job === null) return refused(notFound('This job'));
  return refused(
    cannotSuppose(`Job ${spoken(job.code)} is ${job.state}: it wants nothing any more. Suppose it of a job that is open.`),
  );
}

async function firstOf(reader: Reader, facts: WorkshopFacts, { jobId }: Of<'first'>): Promise<Result<Resolved>> {
  const job = await openJob(reader, facts, jobId);
  return job.ok ? done({ first: [jobId], words: `Job ${spoken(job.value.code)}, ${job.value.title}, comes first` }) : job;
}

async function standardOf(reader: Reader, facts: WorkshopFacts, { jobId, standard }: Of<'standard'>): Promise<Result<Resolved>> {
  const job = await openJob(reader, facts, jobId);
  if (!job.ok) return job;
  const accepts = await acceptsOfLinesUnder(reader, jobId, standard);
  return done({ accepts, words: `Job ${spoken(job.value.code)}, ${job.value.title}, is built ${standardWords(standard)}` });
}

function standardWords(standard: BuildStandard): string {
  return standard === "customer's choice" ? 'to the customer’s choice' : standard;
}

async function coreOf(reader: Reader, facts: WorkshopFacts, { unitId, gives }: Of<'core'>): Promise<Result<Resolved>> {
  const [core] = await coresToBreak(reader, [unitId]);
  if (core === undefined) return refused(notFound('This core'));
  const { unit, typeId } = core;
  const why = whyNotToBreak(core);
  if (why !== null || typeId === null) return refused(cannotSuppose(`${spoken(unit.code)} ${why}`));
  const donors = await donorFactsOf(reader, partsOf(facts), [{ typeId, unit }]);
  const broken = donors.map((donor): BrokenDonor => ({ donor, gives }));
  const what = gives === 'all' ? 'gives all that its type has' : 'gives what is to be expected of it';
  return done({ broken, words: `Core ${spoken(unit.code)}, ${unit.name}, is broken and ${what}: ${gaveWords(facts, broken)}` });
}

function whyNotToBreak({ isFree, isWhole, typeId }: CoreToBreak): string | null {
  if (!isWhole) return 'was opened already: what it gave is in the books.';
  if (!isFree) return 'is no free core: it is on a job, promised, held back, a customer’s or not here. Choose another.';
  return typeId === null ? 'has not been identified, so nobody knows what is in it. Identify it first.' : null;
}

const namedMax = 4;

/** "1 of 48-2201, worm wheel, and 2 further parts that jobs ask for". */
function gaveWords({ lines }: WorkshopFacts, broken: readonly BrokenDonor[]): string {
  const given = broken.flatMap(({ donor, gives }) => {
    const quantity = gives === 'all' ? String(donor.eachHas) : formatDecimal(expectedOf(donor));
    const line = lines.find(({ partId }) => partId === donor.partId);
    return decimalFrom(quantity) > zero && line !== undefined ? [`${quantity} of ${line.number || line.name}`] : [];
  });
  if (given.length === 0) return 'nothing that an open job asks for';
  const further = given.length - namedMax;
  return `${given.slice(0, namedMax).join(', ')}${further > 0 ? ` and ${further} more` : ''}`;
}

async function orderOf(
  reader: Reader,
  { today }: WorkshopFacts,
  supposition: Of<'order-late'> | Of<'order-on'> | Of<'order-never'>,
): Promise<Result<Resolved>> {
  const receipt = await readReceipt(reader, supposition.receiptId);
  if (receipt === null) return refused(notFound('This order'));
  const { orderReference, supplier, part, dueOn } = receipt;
  const which = `Order ${orderReference} of ${supplier.name}, ${part.number || part.name},`;
  if (receipt.calledOff) return refused(cannotSuppose(`${which} was called off: nothing of it is expected any more.`));
  if (decimalFrom(receipt.quantityReceived) >= decimalFrom(receipt.quantity))
    return refused(cannotSuppose(`${which} has come in full: it cannot come later.`));
  if (supposition.kind === 'order-never')
    return done({ orders: new Map([[receipt.id, null]]), words: `${which} does not come at all` });
  if (supposition.kind === 'order-on') {
    if (supposition.on < today)
      return refused(cannotSuppose(`${which} has not come yet, and that day has passed. Give a day from today on.`));
    return done({
      orders: new Map([[receipt.id, supposition.on]]),
      words: `${which} comes on ${formatPlainDate(supposition.on)}`,
    });
  }
  if (dueOn === null)
    return refused(cannotSuppose(`${which} has no date from which it could be late. Suppose a day on which it comes.`));
  const on = addDays(dueOn as PlainDate, supposition.days);
  const late = `${supposition.days} ${supposition.days === 1 ? 'day' : 'days'}`;
  return done({ orders: new Map([[receipt.id, on]]), words: `${which} comes ${late} later, on ${formatPlainDate(on)}` });
}
