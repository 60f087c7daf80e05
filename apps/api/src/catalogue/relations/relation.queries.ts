import type { UnitOfMeasure } from '@corewright/contracts/base';
import type { PartNamed, RelationShown, Successor } from '@corewright/contracts/relations';
import type { Reader } from '../../platform/database/database.js';
import { listed } from '../../platform/database/listed.js';
import { mainNumber } from '../part.queries.js';
import type { StockOfPart } from '../part-stock.js';
import { nameIn, relationWords, type Supersession, successorWords } from './relation-words.js';
import { chainFrom } from './successors.js';
import type { Link } from './what-may-serve.js';

/** More than hang together in any workshop: a graph beyond it is looked at only as far as this. */
const partsMax = 200;
const linksMax = 2000;
const chainMax = 2000;

/** A relation with what it rests on; the names of its parts are looked up beside it. */
export interface StoredLink extends Link {
  conditions: string;
  /** in what two parts that are called the same are known to differ; else empty */
  doubt: string;
  since: string | null;
  evidenceKind: RelationShown['evidence']['kind'];
  evidenceWords: string;
}

/** A relation with who stands behind it. */
export interface StoredRelation extends StoredLink {
  acceptedBy: string;
  acceptedAt: string;
  withdrawnBy: string | null;
  withdrawnAt: string | null;
  withdrawnWhy: string | null;
}

const linkColumns = `
  relations.id, group_id AS "groupId", relations.kind, from_part_id AS "fromId", to_part_id AS "toId", is_kit AS "isKit",
  withdrawn_at IS NOT NULL AS "isWithdrawn", conditions, doubt, since, evidence_kind AS "evidenceKind", evidence_words AS "evidenceWords"`;
const relationColumns = `
  ${linkColumns}, accepters.display_name AS "acceptedBy", accepted_at AS "acceptedAt", withdrawers.display_name AS "withdrawnBy",
  withdrawn_at AS "withdrawnAt", withdrawn_why AS "withdrawnWhy"`;
const people = `
  JOIN people AS accepters ON accepters.id = accepted_by LEFT JOIN people AS withdrawers ON withdrawers.id = withdrawn_by`;

const selectOfPart = `
  SELECT ${relationColumns} FROM relations ${people}
   WHERE from_part_id = $1 OR to_part_id = $1 ORDER BY withdrawn_at NULLS FIRST, accepted_at, relations.id LIMIT ${linksMax}`;
const selectOfGroup = `SELECT ${relationColumns} FROM relations ${people} WHERE group_id = $1 ORDER BY relations.id`;

/**
 * SQL: `around`, the parts that hang together with those of $1 by what is the same and what they became, and those that will serve for
 * one of them. The limits stop the search itself: what is behind them is never fetched.
 */
const around = (parts: number) => `
  WITH RECURSIVE reached AS (
    SELECT unnest((SELECT $1::uuid[])) AS part_id
    UNION
    SELECT next.part_id FROM reached CROSS JOIN LATERAL (
      SELECT to_part_id AS part_id FROM relations
       WHERE from_part_id = reached.part_id AND kind IN ('same as', 'supersession') AND withdrawn_at IS NULL AND NOT is_kit
      UNION ALL
      SELECT from_part_id FROM relations
       WHERE to_part_id = reached.part_id AND kind = 'same as' AND withdrawn_at IS NULL) AS next),
  near AS MATERIALIZED (SELECT part_id FROM reached LIMIT ${parts + 1}),
  servers AS MATERIALIZED (
    SELECT from_part_id AS part_id FROM near JOIN relations ON to_part_id = near.part_id
     WHERE kind = 'will serve for' AND withdrawn_at IS NULL LIMIT ${parts + 1}),
  around AS MATERIALIZED (SELECT part_id FROM near UNION SELECT part_id FROM servers)`;

/** SQL: what a part is called. */
const nameColumns = `
  parts.id, parts.name, coalesce(main.number, '') AS number, coalesce(makers.name, '') AS maker, unit_of_measure AS "unitOfMeasure"`;

/**
 * SQL: every relation of the parts around those of $1, each once, and in the first row what all their parts are called: asking for
 * that afterwards would take as long again.
 */
const relationsAroundThem = (columns: string, joined: string, nameColumns: string, parts: number, links: number) => `
  ${around(parts)},
  links AS MATERIALIZED (
    SELECT found.* FROM around CROSS JOIN LATERAL (
      SELECT * FROM relations WHERE from_part_id = around.part_id
      UNION ALL
      SELECT * FROM relations WHERE to_part_id = around.part_id AND from_part_id NOT IN (SELECT part_id FROM around)) AS found LIMIT ${links + 1}),
  named AS (
    SELECT part.* FROM (SELECT from_part_id AS part_id FROM links UNION SELECT to_part_id FROM links) AS ends
     CROSS JOIN LATERAL (SELECT ${nameColumns} FROM parts ${mainNumber} WHERE parts.id = ends.part_id LIMIT 1) AS part),
  counted AS (SELECT (SELECT count(*) FROM near) <= ${parts} AND (SELECT count(*) FROM servers) <= ${parts} AS whole)
  SELECT ${columns}, whole,
         CASE WHEN row_number() OVER (ORDER BY accepted_at, relations.id) = 1 THEN (SELECT json_agg(named) FROM named) END AS parts
    FROM links AS relations ${joined} CROSS JOIN counted ORDER BY accepted_at, relations.id`;

/** SQL: the relations around the part of $1. @param stock SQL that gives `free` and `places` of `parts` */
export const selectAround = (stock: string) =>
  relationsAroundThem(relationColumns, people, `${nameColumns}, ${stock}`, partsMax, linksMax);
/** A job asks for some tens of parts at once, and not for who accepted what. */
const selectAroundMany = relationsAroundThem(linkColumns, '', nameColumns, partsMax * 10, linksMax * 10);

const stepColumns = 'relations.id, from_part_id, to_part_id, is_kit, since, accepted_at';

/** SQL: every live supersession somewhere after the parts of $1, as `later`. */
export const laterSupersessions = `
  WITH RECURSIVE later AS (
    SELECT ${stepColumns} FROM relations WHERE from_part_id = ANY (${listed('$1')}) AND kind = 'supersession' AND withdrawn_at IS NULL
    UNION
    SELECT next.* FROM later CROSS JOIN LATERAL (
      SELECT ${stepColumns} FROM relations WHERE from_part_id = later.to_part_id AND kind = 'supersession' AND withdrawn_at IS NULL) AS next)`;

/** With what each step leads to is called: a step begins with a part that was asked for, or with what another leads to. */
const selectSteps = `
  ${laterSupersessions}
  SELECT later.id, from_part_id AS "fromId", to_part_id AS "toId", is_kit AS "isKit", since, named.*
    FROM (SELECT * FROM later LIMIT ${chainMax}) AS later
   CROSS JOIN LATERAL (
      SELECT parts.name, coalesce(main.number, '') AS number, coalesce(makers.name, '') AS maker
        FROM parts ${mainNumber} WHERE parts.id = to_part_id LIMIT 1) AS named
   ORDER BY accepted_at, later.id`;

const selectNames = `
  SELECT ${nameColumns} FROM parts ${mainNumber}
   WHERE parts.id = ANY (${listed('$1')})`;

export type PartKnown = PartNamed & { unitOfMeasure: UnitOfMeasure };
export type PartsKnown = ReadonlyMap<string, PartKnown>;

/** What parts are called. */
export async function partsNamed(reader: Reader, partIds: Iterable<string>): Promise<PartsKnown> {
  const rows = await reader.rows<PartKnown>(selectNames, [[...new Set(partIds)]]);
  return new Map(rows.map((row) => [row.id, row]));
}

export function relationShown(row: StoredRelation, parts: ReadonlyMap<string, PartNamed>): RelationShown {
  const [from, to] = [nameIn(parts, row.fromId), nameIn(parts, row.toId)];
  const isWithdrawn = row.withdrawnAt !== null && row.withdrawnWhy !== null;
  return {
    id: row.id,
    kind: row.kind,
    from,
    to,
    isKit: row.isKit,
    conditions: row.conditions,
    doubt: row.doubt,
    since: row.since,
    evidence: { kind: row.evidenceKind, words: row.evidenceWords },
    acceptedBy: row.acceptedBy,
    acceptedAt: row.acceptedAt,
    withdrawn: isWithdrawn ? { by: row.withdrawnBy ?? '', at: row.withdrawnAt ?? '', why: row.withdrawnWhy ?? '' } : null,
    words: relationWords(row, from, to),
  };
}

function endsOf(links: readonly Link[]): string[] {
  return links.flatMap((link) => [link.fromId, link.toId]);
}

async function shown(reader: Reader, text: string, id: string): Promise<RelationShown[]> {
  const rows = await reader.rows<StoredRelation & Record<string, unknown>>(text, [id]);
  if (rows.length === 0) return [];
  const parts = await partsNamed(reader, endsOf(rows));
  return rows.map((row) => relationShown(row, parts));
}

/** Every relation of a part, those that stand first. */
export function relationsOfPart(reader: Reader, partId: string): Promise<RelationShown[]> {
  return shown(reader, selectOfPart, partId);
}

/** What was accepted together. */
export function relationsOfGroup(reader: Reader, groupId: string): Promise<RelationShown[]> {
  return shown(reader, selectOfGroup, groupId);
}

/** Relations around parts, what all these parts are called, and whether these are all that matter. */
export interface Around<L extends StoredLink, P extends PartKnown> {
  links: L[];
  parts: ReadonlyMap<string, P>;
  isWhole: boolean;
}

type AroundRow<L, P> = L & { whole: boolean; parts: P[] | null } & Record<string, unknown>;

export type PartStocked = PartKnown & StockOfPart;

/** The relations around a part, by a statement of `selectAround`. */
export async function relationsAround(
  reader: Reader,
  statement: string,
  partId: string,
): Promise<Around<StoredRelation, PartStocked>> {
  return aroundIn(await reader.rows<AroundRow<StoredRelation, PartStocked>>(statement, [[partId]]), linksMax);
}

/** The relations around several parts at once. */
export async function linksAround(reader: Reader, partIds: readonly string[]): Promise<Around<StoredLink, PartKnown>> {
  return aroundIn(await reader.rows<AroundRow<StoredLink, PartKnown>>(selectAroundMany, [partIds]), linksMax * 10);
}

function aroundIn<L extends StoredLink, P extends PartKnown>(rows: AroundRow<L, P>[], most: number): Around<L, P> {
  const parts = new Map((rows[0]?.parts ?? []).map((part) => [part.id, part]));
  return { links: rows.slice(0, most), parts, isWhole: rows.length <= most && rows.every((row) => row.whole) };
}

type NamedStep = Supersession & Omit<PartNamed, 'id'>;

/** What parts became, by their ids; one that is current has nothing. */
export async function successorsOf(reader: Reader, asked: readonly PartNamed[]): Promise<ReadonlyMap<string, Successor>> {
  const later = await reader.rows<NamedStep & Record<string, unknown>>(selectSteps, [asked.map((part) => part.id)]);
  const parts = new Map(asked.map((part) => [part.id, part]));
  for (const { toId, name, number, maker } of later) parts.set(toId, { id: toId, name, number, maker });
  const named = (ids: readonly string[]) => ids.map((id) => nameIn(parts, id));
  const successors = new Map<string, Successor>();
  for (const { id } of asked) {
    const found = chainFrom(id, later);
    if (found === null) continue;
    const { steps, chain, current } = found;
    successors.set(id, { chain: named(chain), current: named(current), words: successorWords(steps, parts) });
  }
  return successors;
}
