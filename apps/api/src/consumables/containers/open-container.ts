import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { ContainerOpened } from '@corewright/contracts/consumables';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { useByOf } from '../../catalogue/use-by.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Reader } from '../../platform/database/database.js';
import { newId } from '../../platform/new-id.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { lockOf, whereIs } from '../../stores/ledger.js';
import { codeOf } from '../../stores/place-words.js';
import { splitOff } from '../../stores/regroup/split-off.js';
import { type ConsumableRow, lockConsumable, type Opened, openContainersOf, packetUseByOf } from '../consumable.queries.js';
import { decideOpening } from './decide-opening.js';

const partOfLot = 'SELECT part_id AS "partId" FROM lots WHERE thing_id = $1';
const codeOfThing = `SELECT ${codeOf('$1::uuid')} AS code`;
export const insertEvent = `
  INSERT INTO container_events (id, command_key, thing_id, part_id, kind, opened_on, movement_id, words, person_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`;

/** The consumable of a lot, locked; refused where the lot is none of one. */
export async function lockConsumableOfLot(transaction: Transaction, thingId: string): Promise<Result<ConsumableRow>> {
  const lot = await transaction.row<{ partId: string | null }>(partOfLot, [thingId]);
  if (lot === null) return refused(notFound('That lot'));
  const consumable = lot.partId === null ? null : await lockConsumable(transaction, lot.partId);
  if (consumable !== null) return done(consumable);
  return refused({
    status: 409,
    code: 'no-consumable',
    title: 'No consumable',
    detail:
      'Its part does not go by the container. Say on the page of the part that it is a consumable, then try again. Nothing was changed.',
  });
}

export interface OpenFrom {
  thingId: string;
  placeId: string | null;
  openedOn: string | null;
  today: string;
  /** a blank label that is put on it; empty: none */
  label: string;
}

/** Opens one of a lot; the consumable is locked. The last of a lot goes on as that lot, else one becomes a lot of its own. */
export async function openContainer(
  transaction: Transaction,
  consumable: ConsumableRow,
  { thingId, placeId, openedOn, today, label }: OpenFrom,
): Promise<Result<ContainerOpened>> {
  const [thing, balances, open] = await Promise.all([
    lockOf(transaction, thingId),
    whereIs(transaction, thingId),
    openContainersOf(transaction, [consumable.partId], today),
  ]);
  if (thing === null) return refused(notFound('That lot'));
  const decision = decideOpening({
    thing,
    name: consumable.name,
    balances,
    placeId,
    openedOn,
    today,
    oneAtATime: consumable.oneAtATime,
    open: open.map((each) => ({ words: openWords(each), isThis: each.thing.id === thingId })),
    hasLabelKeyed: label !== '',
  });
  if (!decision.ok) return decision;
  const opened = decision.value.isLast
    ? done({ id: thingId, code: await codeNow(transaction, thingId) })
    : await openOne(transaction, { thingId, placeId: decision.value.placeId, label });
  if (!opened.ok) return opened;
  const { id, code } = opened.value;
  const { key, person } = transaction.command;
  await transaction.rows(insertEvent, [newId(), key, id, consumable.partId, 'opened', openedOn, null, '', person.id]);
  transaction.news(`thing:${thingId}`, `thing:${id}`, 'stores', 'today', `part:${consumable.partId}`);
  const facts = { packetUseBy: await packetUseByOf(transaction, id), isOpen: true, openedOn, keepsDays: consumable.keepsDays };
  const useBy = useByOf(facts, today);
  return done({ thing: { id, code, name: consumable.name }, useBy, words: toWriteOnIt(code, openedOn, useBy.on) });
}

/** One of a lot goes on as a lot of its own: only of that one anybody says when it was opened. */
async function openOne(
  transaction: Transaction,
  { thingId, placeId, label }: Pick<OpenFrom, 'thingId' | 'label'> & { placeId: string },
): Promise<Result<{ id: string; code: LabelCode }>> {
  const id = newId();
  const one = { placeId, quantity: '1', label: label === '' ? null : label, why: 'opened' };
  const code = await splitOff(transaction, { ...one, fromLotId: thingId, toLotId: id });
  return code.ok ? done({ id, code: code.value }) : code;
}

/** "L 000123 45, Stores, Bin 4, opened 3 Nov 2026" */
export function openWords({ thing, where, openedOn }: Opened): string {
  return [
    formatCode(thing.code as LabelCode),
    where,
    openedOn === null ? 'opened, nobody knows when' : `opened ${formatPlainDate(openedOn)}`,
  ].join(', ');
}

function toWriteOnIt(code: LabelCode, openedOn: string | null, useBy: string | null): string {
  const words = [
    formatCode(code),
    openedOn === null ? null : `opened ${formatPlainDate(openedOn)}`,
    useBy === null ? null : `use by ${formatPlainDate(useBy)}`,
  ];
  return `Write on it: ${words.filter((each) => each !== null).join(', ')}.`;
}

async function codeNow(reader: Reader, thingId: string): Promise<LabelCode> {
  const row = await reader.row<{ code: LabelCode }>(codeOfThing, [thingId]);
  return row?.code as LabelCode;
}
