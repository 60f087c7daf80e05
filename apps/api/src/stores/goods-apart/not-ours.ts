import type { Coded } from '@corewright/contracts/base';
import type { NotOurs, OwnersGoods } from '@corewright/contracts/goods-apart';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../../people/workshop.js';
import type { Reader } from '../../platform/database/database.js';
import { ClaimantNames, UnitJobs } from '../later-names.js';
import { unknownOwnerId } from '../ledger.js';
import { codeOf, holderWords, thingFacts, thingName } from '../place-words.js';

interface Row extends Record<string, unknown> {
  ownerId: string;
  ownerName: string;
  id: string;
  code: string | null;
  name: string;
  kind: OwnersGoods['things'][number]['kind'];
  quantity: string;
  since: string;
  where: string;
  claimants: { id: string; code: string | null }[];
  heldBackReason: string | null;
  condemned: boolean;
  isMissing: boolean;
  keptAs: string | null;
  note: string;
}

/** Ours and theirs are never summed: this is theirs alone, and each quantity stands by itself. */
const selectTheirs = `
  SELECT owners.id AS "ownerId", owners.name AS "ownerName", things.id, ${codeOf('things.id')} AS code, ${thingName} AS name,
         CASE things.kind WHEN 'U' THEN 'unit' WHEN 'L' THEN 'lot' WHEN 'C' THEN 'component' ELSE 'unsorted' END AS kind,
         trim_scale(held + awaited)::text AS quantity,
         coalesce((SELECT occurred_at FROM movements WHERE thing_id = things.id ORDER BY sequence LIMIT 1), things.created_at) AS since,
         coalesce((SELECT string_agg(${holderWords('holders.id', 'holders.kind')}, '; ' ORDER BY quantity DESC, holders.id)
           FROM balances JOIN holders ON holders.id = holder_id WHERE thing_id = things.id AND quantity > 0), '') AS where,
         coalesce((SELECT jsonb_agg(DISTINCT jsonb_build_object('id', claimant_id, 'code', ${codeOf('claimant_id')})) FROM claims
           WHERE thing_id = things.id AND quantity > 0), '[]') AS claimants,
         held_back_reason AS "heldBackReason", condemned, missing_since IS NOT NULL AS "isMissing",
         (SELECT kept.kind || ', look again on ' || to_char(look_again_on, 'YYYY-MM-DD') FROM kept_for_owners AS kept WHERE kept.thing_id = things.id AND ended_at IS NULL) AS "keptAs",
         coalesce(units.note, lots.note, components.note, unsorted_boxes.note, '') AS note
    FROM things ${thingFacts} JOIN parties AS owners ON owners.id = owner_id
   WHERE held + awaited > 0 AND ($1::uuid IS NULL OR owner_id = $1)
   ORDER BY owners.id = '${unknownOwnerId}', owners.name COLLATE "C", owners.id, array_position(ARRAY['U', 'C', 'L', 'X'], things.kind::text), name, things.id`;

/** What lies here, or is at an outworker for us, and is not ours. */
@Injectable()
export class GoodsNotOurs {
  constructor(
    private readonly clock: WorkshopClock,
    private readonly jobs: UnitJobs,
    private readonly claimants: ClaimantNames,
  ) {}

  /** @param ownerId null: of everybody */
  async of(reader: Reader, ownerId: string | null): Promise<NotOurs> {
    const rows = await reader.rows<Row>(selectTheirs, [ownerId]);
    const names = await this.claimants.namesOf(
      reader,
      rows.flatMap(({ claimants }) => claimants.map(({ id }) => id)),
    );
    const jobs = await this.jobs.namesOf(
      reader,
      rows.filter(({ kind }) => kind === 'unit').map(({ id }) => id),
    );
    const owners = new Map<string, OwnersGoods>();
    for (const row of rows) {
      const owner = owners.get(row.ownerId) ?? {
        owner: { id: row.ownerId, name: row.ownerName },
        isKnown: row.ownerId !== unknownOwnerId,
        things: [],
      };
      owners.set(row.ownerId, owner);
      owner.things.push(shown(row, jobs.get(row.id) ?? null, names));
    }
    return { today: await this.clock.today(reader), owners: [...owners.values()] };
  }
}

function shown(row: Row, job: Coded | null, names: ReadonlyMap<string, string>): OwnersGoods['things'][number] {
  const { id, code, name, kind, quantity, since, where, claimants, note } = row;
  const claimed = claimants
    .filter((claimant) => claimant.id !== job?.id)
    .map((claimant) => ({ id: claimant.id, code: claimant.code ?? '', name: names.get(claimant.id) ?? '' }));
  const standing = [
    row.condemned ? 'condemned' : null,
    row.keptAs,
    row.heldBackReason !== null && row.keptAs === null ? `held back: ${row.heldBackReason}` : null,
    row.isMissing ? 'looked for and not found' : null,
  ].filter((words) => words !== null);
  return {
    id,
    code: code ?? '',
    name,
    kind,
    quantity,
    since,
    where,
    jobs: job === null ? claimed : [job, ...claimed],
    standing,
    note,
  };
}
