import type { SaleStop, TakenFromJob } from '@corewright/contracts/selling';
import {
  addDecimals,
  type Decimal,
  decimalFrom,
  formatDecimal,
  lesserDecimal,
  notBelowZero,
  subtractDecimals,
  sumDecimals,
  zero,
} from '@corewright/quantities/decimal';
import { checkQuantity } from '@corewright/quantities/unit-of-measure';
import { tooOld } from '../bench/may-serve.js';
import { spoken } from '../jobs/job.queries.js';
import type { AskedFor, ClaimingJob, Goods } from './goods-to-sell.js';

/** So much of a claim that does not lie in its job's tray is taken. */
export interface ClaimTaken {
  claimId: string;
  lineId: string | null;
  job: ClaimingJob;
  quantity: Decimal;
}

/** How one line of a receipt would be served, and what stands in its way. */
export interface SaleLinePlan {
  goods: Goods;
  quantity: Decimal;
  here: Decimal;
  free: Decimal;
  stops: readonly SaleStop[];
  takes: readonly ClaimTaken[];
  moves: readonly { fromHolderId: string; quantity: Decimal }[];
}

/** Pure: the same goods give the same answer. @param today of the workshop's calendar */
export function decideSale(asked: readonly AskedFor[], goods: readonly Goods[], today: string): SaleLinePlan[] {
  const inSale = new Set(asked.map(({ thingId }) => thingId));
  return asked.flatMap((each) => {
    const of = goods.find(({ thing }) => thing.id === each.thingId);
    return of === undefined ? [] : [planOf(each, of, inSale, today)];
  });
}

function planOf({ quantity: keyed }: AskedFor, goods: Goods, inSale: ReadonlySet<string>, today: string): SaleLinePlan {
  const { thing, locked, balances } = goods;
  const here = sumDecimals(balances.filter(({ kind }) => kind === 'place').map(({ quantity }) => decimalFrom(quantity)));
  const ours = addDecimals(decimalFrom(locked.held), decimalFrom(locked.awaited));
  const free = lesserDecimal(here, notBelowZero(subtractDecimals(ours, decimalFrom(locked.claimed))));
  const read = checkQuantity(keyed, thing.unitOfMeasure);
  const quantity = read.ok ? read.value : zero;
  const stops = [barOf(goods, inSale, here), ...saidOf(goods, today)].filter((each) => each !== null);
  if (!read.ok) stops.push({ ...stop('bad-quantity', 'Not a quantity', read.error.sentence) });
  else if (stops.every(({ mayBeLetGo }) => mayBeLetGo)) stops.push(...shortOf(goods, quantity, here));
  const takes = takesOf(goods, notBelowZero(subtractDecimals(quantity, free)));
  return { goods, quantity, here, free, stops, takes, moves: movesOf(goods, quantity) };
}

/** What no word of anybody's opens. */
function barOf(goods: Goods, inSale: ReadonlySet<string>, here: Decimal): SaleStop | null {
  const { thing, locked, boundWith, kept, job } = goods;
  if (locked.ownerId !== null)
    return stop(
      'goods-of-a-customer',
      'Not ours to sell',
      `It belongs to ${thing.ownerName ?? 'a customer'}. A customer’s goods are never sold.`,
    );
  if (thing.kind === 'X')
    return stop(
      'unnamed',
      'Nobody has named it',
      'This is an unsorted box. Name on its page what you take out of it, and sell that.',
    );
  if (locked.condemned) return stop('condemned', 'Condemned', 'This was condemned: it is not sold, whatever the reason.');
  if (locked.missingSince !== null)
    return stop(
      'missing',
      'Missing',
      'It was looked for and not found. If it is in your hand, book it on its page as found first.',
    );
  if (job !== null)
    return stop(
      'job-open',
      'A job is open on it',
      `“${job.name}”, ${spoken(job.code)}, is open on this unit. Finish or call off that job first.`,
    );
  if (here === zero) return stop('not-in-stores', 'Not in stores', notHere(goods));
  const left = boundWith.filter(({ id }) => !inSale.has(id));
  if (left.length > 0)
    return stop(
      'kept-set-not-whole',
      'It belongs to a set',
      `It is sold with the rest of its set or not at all: put ${left.map(({ name, code }) => `${name}, ${spoken(code)},`).join(' and ')} on this receipt too, or break the set with a name and a reason on its page.`,
    );
  const [keeping] = kept;
  if (keeping !== undefined)
    return stop(
      'kept-for-own-jobs',
      'Kept for own jobs',
      `${keeping.by} keeps ${keeping.on === 'part' ? 'this part' : 'this one'} for own jobs: ${keeping.reason} Whoever keeps the books can lift that, by name and with a reason.`,
    );
  return null;
}

/** What may be let go over somebody's name. */
function saidOf({ thing, locked }: Goods, today: string): SaleStop[] {
  const stops: SaleStop[] = [];
  if (locked.heldBackReason !== null)
    stops.push({ ...stop('held-back', 'Held back', `It is held back: ${locked.heldBackReason}`), mayBeLetGo: true });
  const aged = tooOld(thing, today);
  if (aged)
    stops.push({
      code: aged.code,
      title: aged.title,
      words: aged.detail.replace(/ Nothing was changed\.$/, ''),
      mayBeLetGo: true,
    });
  return stops;
}

function shortOf({ thing, boundWith }: Goods, quantity: Decimal, here: Decimal): SaleStop[] {
  if (quantity > here)
    return [
      stop(
        'not-enough',
        'Not so many',
        `${formatDecimal(here)} of it ${here === decimalFrom('1') ? 'lies' : 'lie'} in stores, and ${formatDecimal(quantity)} were asked for. What lies in a job’s tray is put back first.`,
      ),
    ];
  if (boundWith.length > 0 && quantity < here)
    return [
      stop(
        'kept-set-not-whole',
        'It belongs to a set',
        `All ${formatDecimal(here)} of ${spoken(thing.code)} belong to its set, and a set is sold whole.`,
      ),
    ];
  return [];
}

function notHere({ holdings }: Goods): string {
  const [first] = holdings;
  if (first === undefined) return 'Nothing of it is held any more.';
  switch (first.holderKind) {
    case 'tray':
      return `It was picked: it lies in ${first.words}, the tray of a job. Put it back first.`;
    case 'unit':
      return `It is in ${first.words}. Take it out first.`;
    case 'outworker':
      return `It is at ${first.words}. It can be sold when it is back.`;
    case 'customer':
      return `It is with ${first.words} already.`;
    default:
      return `By the books it is with ${first.words}.`;
  }
}

/** What was reserved last is taken first. What lies in a tray is not taken. */
function takesOf({ claims, claimants, balances }: Goods, wanted: Decimal): ClaimTaken[] {
  const inTray = new Map(
    claimants.map(({ id, trayId }) => [
      id,
      sumDecimals(balances.filter(({ holderId }) => holderId === trayId).map(({ quantity }) => decimalFrom(quantity))),
    ]),
  );
  const idle = claims.flatMap((claim): ClaimTaken[] => {
    const job = claimants.find(({ id }) => id === claim.claimantId);
    if (job === undefined) return [];
    const claimed = decimalFrom(claim.quantity);
    const laidBy = lesserDecimal(claimed, inTray.get(job.id) ?? zero);
    inTray.set(job.id, subtractDecimals(inTray.get(job.id) ?? zero, laidBy));
    return [{ claimId: claim.id, lineId: claim.purposeId, job, quantity: subtractDecimals(claimed, laidBy) }];
  });
  const takes: ClaimTaken[] = [];
  let left = wanted;
  for (const each of idle.toReversed()) {
    const part = lesserDecimal(left, each.quantity);
    if (part > zero) takes.push({ ...each, quantity: part });
    left = subtractDecimals(left, part);
  }
  return takes;
}

function movesOf({ balances }: Goods, quantity: Decimal): { fromHolderId: string; quantity: Decimal }[] {
  const moves: { fromHolderId: string; quantity: Decimal }[] = [];
  let left = quantity;
  for (const balance of balances.filter(({ kind }) => kind === 'place')) {
    const part = lesserDecimal(left, decimalFrom(balance.quantity));
    if (part > zero) moves.push({ fromHolderId: balance.holderId, quantity: part });
    left = subtractDecimals(left, part);
  }
  return moves;
}

/** What the jobs lose that have reserved it, a row for each job. */
export function takenFromJobs(takes: readonly ClaimTaken[]): TakenFromJob[] {
  const jobs = new Map(takes.map(({ job }) => [job.id, job]));
  return [...jobs.values()].map(({ id, code, name, dateGiven }) => ({
    job: { id, code, name },
    dateGiven,
    quantity: formatDecimal(sumDecimals(takes.filter(({ job }) => job.id === id).map(({ quantity }) => quantity))),
  }));
}

function stop(code: string, title: string, words: string): SaleStop {
  return { code, title, words, mayBeLetGo: false };
}
