import type { OpenTransaction, Transaction } from '../platform/commands/unit-of-work.js';
import type { Reader } from '../platform/database/database.js';
import { newId } from '../platform/new-id.js';

/** So many of a thing from one holder to another. Quantities are exact decimals as text. */
export interface Move {
  thingId: string;
  quantity: string;
  fromHolderId: string;
  toHolderId: string;
  reason: string;
  /** when it was scanned; now, where nobody says otherwise */
  occurredAt?: string | undefined;
  /** the movement that this one undoes */
  reversesId?: string | undefined;
}

/** A thing whose row is locked for this transaction, with its counters as they are now. */
export interface LockedThing {
  id: string;
  kind: 'U' | 'L' | 'C' | 'X';
  ownerId: string | null;
  held: string;
  /** at outworkers, from whom it comes back */
  awaited: string;
  claimed: string;
  heldBackReason: string | null;
  condemned: boolean;
  /** found property, or waiting for its owner: of no use to any job */
  keptForOwner: boolean;
  missingSince: string | null;
  version: number;
}

export interface Balance {
  holderId: string;
  kind: 'place' | 'tray' | 'unit' | 'box' | 'outworker' | 'supplier' | 'customer' | 'scrap' | 'count-difference' | 'regrouping';
  counts: boolean;
  quantity: string;
  name: string | null;
}

export interface Claim {
  id: string;
  claimantId: string;
  purposeId: string | null;
  quantity: string;
  /** the last day on which it holds; null: firm */
  until: string | null;
  madeById: string | null;
}

/** Who claims, for what, until when. */
export interface ClaimTerms {
  claimantId: string;
  purposeId: string | null;
  quantity: string;
  until: string | null;
  /** null where nobody did: the clock, or a claim that moved and whose maker is not known */
  madeById: string | null;
}

/** The boundary through which count differences come and go; its id is the same in every workshop. */
export const countDifferenceId = '00000000-0000-7000-8000-00000000c0d1';
/** The boundary through which so many of one lot go over into another. */
export const regroupingId = '00000000-0000-7000-8000-0000000a1107';
/** Where what was used up went; its id is the same in every workshop. */
export const usedUpId = '00000000-0000-7000-8000-000000005edd';
/** Where scrapped things go. */
export const scrapId = '00000000-0000-7000-8000-0000000005c4';

/** The owner of what nobody knows whose it is. It is no customer, so no job can be for it. */
export const unknownOwnerId = '00000000-0000-7000-8000-00000000f0d0';

const thingColumns = `
  SELECT id, kind, owner_id AS "ownerId", held, awaited, claimed, held_back_reason AS "heldBackReason", condemned,
         kept_for_owner AS "keptForOwner", missing_since AS "missingSince", version
    FROM things`;
const lockThing = `${thingColumns} WHERE id = $1 FOR NO KEY UPDATE`;
const selectThings = `${thingColumns} WHERE id = ANY ($1::uuid[])`;
const lockThings = `${thingColumns} WHERE id = ANY ($1::uuid[]) ORDER BY id FOR NO KEY UPDATE`;
const balancesWhere = (thing: string): string => `
  SELECT balances.holder_id AS "holderId", holders.kind, counts, quantity, places.name
    FROM balances JOIN holders ON holders.id = balances.holder_id LEFT JOIN places ON places.holder_id = holders.id
   WHERE thing_id = ${thing} AND quantity <> 0 ORDER BY quantity DESC, balances.holder_id`;
const balancesOf = balancesWhere('$1');
/** SQL: the thing that bears a live code. */
export const bearerOfCode = '(SELECT subject_id FROM codes WHERE code = $1 AND voided_at IS NULL)';
const lockBearer = `${thingColumns} WHERE id = ${bearerOfCode} FOR NO KEY UPDATE`;
const balancesOfBearer = balancesWhere(bearerOfCode);
const claimsOf = `
  SELECT id, claimant_id AS "claimantId", purpose_id AS "purposeId", quantity, until, made_by AS "madeById"
    FROM claims WHERE thing_id = $1 AND quantity > 0 ORDER BY made_at, id`;
const insertMovement = `
  INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, person_id, occurred_at, reverses_id)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, coalesce($9::timestamptz, now()), $10)`;
const insertMovements = `
  INSERT INTO movements (id, command_key, thing_id, quantity, from_holder_id, to_holder_id, reason, person_id, occurred_at, reverses_id)
  SELECT each.id, $1, thing_id, quantity, from_holder_id, to_holder_id, $2, $3, coalesce($4::timestamptz, now()), reverses_id
    FROM unnest($5::uuid[], $6::uuid[], $7::numeric[], $8::uuid[], $9::uuid[], $10::uuid[])
      AS each (id, thing_id, quantity, from_holder_id, to_holder_id, reverses_id)`;
// What was given up begins anew; what is there holds as long as the longer of the two, and a firm one for good.
const addToClaim = `
  INSERT INTO claims (id, thing_id, claimant_id, purpose_id, quantity, until, made_by) VALUES ($1, $2, $3, $4, $5, $6, $7)
  ON CONFLICT (thing_id, claimant_id, purpose_id) DO UPDATE SET quantity = claims.quantity + EXCLUDED.quantity,
    until = CASE WHEN claims.quantity = 0 THEN EXCLUDED.until
                 WHEN claims.until IS NULL OR EXCLUDED.until IS NULL THEN NULL ELSE greatest(claims.until, EXCLUDED.until) END,
    made_by = CASE WHEN claims.quantity = 0 THEN EXCLUDED.made_by ELSE claims.made_by END,
    made_at = CASE WHEN claims.quantity = 0 THEN EXCLUDED.made_at ELSE claims.made_at END`;
const takeFromClaim = 'UPDATE claims SET quantity = quantity - $2 WHERE id = $1';
const ensureHolder = 'INSERT INTO holders (id, kind) VALUES ($1, $2) ON CONFLICT (id) DO NOTHING';

/** Locks a thing for this transaction. A command that locks several takes them in the order of their ids. */
export function lockOf(transaction: Transaction, thingId: string): Promise<LockedThing | null> {
  return transaction.row<LockedThing & Record<string, unknown>>(lockThing, [thingId]);
}

/** Locks the thing that bears a code, for a command that takes no other: no look-up has to come back first. */
export function lockByCode(transaction: Transaction, code: string): Promise<LockedThing | null> {
  return transaction.row<LockedThing & Record<string, unknown>>(lockBearer, [code]);
}

/** Where the thing that bears a code is; asked for after `lockByCode`, nobody else can change it. */
export function whereIsByCode(reader: Reader, code: string): Promise<Balance[]> {
  return reader.rows<Balance & Record<string, unknown>>(balancesOfBearer, [code]);
}

/** Locks several in the order of their ids, which is the order in which they are given. */
export function locksOf(transaction: Reader, thingIds: readonly string[]): Promise<LockedThing[]> {
  return transaction.rows<LockedThing & Record<string, unknown>>(lockThings, [thingIds]);
}

/** The same counters of things that are only looked at: another may change them at any moment. */
export function thingsAsTheyAre(reader: Reader, thingIds: readonly string[]): Promise<LockedThing[]> {
  return reader.rows<LockedThing & Record<string, unknown>>(selectThings, [thingIds]);
}

/** Where a thing is now; after `lockOf` nobody else can change it. */
export function whereIs(reader: Reader, thingId: string): Promise<Balance[]> {
  return reader.rows<Balance & Record<string, unknown>>(balancesOf, [thingId]);
}

export function claimsOn(reader: Reader, thingId: string): Promise<Claim[]> {
  return reader.rows<Claim & Record<string, unknown>>(claimsOf, [thingId]);
}

/**
 * Sends a movement; the database keeps the balances with it and refuses what must not be, which the next statement tells.
 * @returns the movement's id
 */
export function move(transaction: Transaction, step: Move): string {
  const id = newId();
  transaction.send(insertMovement, [
    id,
    transaction.command.key,
    step.thingId,
    step.quantity,
    step.fromHolderId,
    step.toHolderId,
    step.reason,
    transaction.command.person.id,
    step.occurredAt ?? transaction.command.madeAt,
    step.reversesId ?? null,
  ]);
  transaction.news(`thing:${step.thingId}`, 'stores');
  return id;
}

/** How many things a piece of news names one by one; of more it says that stores have changed. */
const namedMax = 100;

/**
 * Sends the movements of one act in one statement, for one reason and at one time; as with `move`, the next statement tells of a refusal.
 * @returns the movements' ids, in the order of the steps
 */
export function moveAll(
  transaction: Transaction,
  steps: readonly Omit<Move, 'reason' | 'occurredAt'>[],
  { reason, occurredAt }: Pick<Move, 'reason' | 'occurredAt'>,
): string[] {
  const ids = steps.map(() => newId());
  transaction.send(insertMovements, [
    transaction.command.key,
    reason,
    transaction.command.person.id,
    occurredAt ?? transaction.command.madeAt,
    ids,
    steps.map(({ thingId }) => thingId),
    steps.map(({ quantity }) => quantity),
    steps.map(({ fromHolderId }) => fromHolderId),
    steps.map(({ toHolderId }) => toHolderId),
    steps.map(({ reversesId }) => reversesId ?? null),
  ]);
  transaction.news('stores', ...steps.slice(0, namedMax).map(({ thingId }) => `thing:${thingId}`));
  return ids;
}

/** Claims so many more for a claimant and purpose, for good. The database refuses claims above what is held and comes back. */
export function claimMore(
  transaction: Transaction,
  thingId: string,
  claimantId: string,
  purposeId: string | null,
  quantity: string,
): void {
  claimOn(transaction, thingId, { claimantId, purposeId, quantity, until: null, madeById: transaction.command.person.id });
}

/** The same on terms of its own: until a day, or as another made it. */
export function claimOn(transaction: OpenTransaction, thingId: string, terms: ClaimTerms): void {
  const { claimantId, purposeId, quantity, until, madeById } = terms;
  transaction.send(addToClaim, [newId(), thingId, claimantId, purposeId, quantity, until, madeById]);
}

export function claimLess(transaction: OpenTransaction, claimId: string, quantity: string): void {
  transaction.send(takeFromClaim, [claimId, quantity]);
}

/** Makes the holder row of a firm, unit or boundary where it is missing. */
export function holderOf(transaction: Transaction, id: string, kind: Balance['kind']): string {
  transaction.send(ensureHolder, [id, kind]);
  return id;
}
