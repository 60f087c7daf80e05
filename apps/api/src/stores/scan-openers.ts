import type { LabelCode } from '@corewright/codes/label-code';
import type { ScanAnswer } from '@corewright/contracts/scanning';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { Injectable, type OnModuleInit } from '@nestjs/common';
import { type StoredFacts, storageLifeOf, storageStop, storedFacts } from '../catalogue/storage-life.js';
import { sayOpen, type UseByFacts } from '../catalogue/use-by.js';
import { WorkshopClock } from '../people/workshop.js';
import type { Reader } from '../platform/database/database.js';
import { ScanRegistry } from '../scanning/scan-registry.js';
import { factsOfKind, nameOfKind, placePath, typeName } from './place-words.js';
import { isFree } from './stock.queries.js';

type ThingKind = keyof typeof factsOfKind;

/** What a code shows of a thing. What belongs to one kind only is missing from the rows of the others. */
interface ThingRow extends Record<string, unknown>, Partial<StoredFacts> {
  id: string;
  name: string;
  owner: string | null;
  heldBackReason: string | null;
  condemned: boolean;
  keptUntil: string | null;
  isMissing: boolean;
  held: string;
  free: string;
  where: string | null;
  typeName?: string;
  grade?: string;
  number?: string | null;
  source?: string;
  /** what is known of it as an open container; null where it is none */
  container?: Omit<UseByFacts, 'isOpen'> | null;
  make?: string;
}

/** SQL: an open container's dates. Of a lot that is none this is one look into an index of the few that are open. */
const container = `
  (SELECT json_build_object('keepsDays', keeps_days,
            'openedOn', (SELECT opened_on FROM container_events WHERE container_events.thing_id = things.id AND container_events.kind = 'opened' ORDER BY sequence DESC LIMIT 1),
            'packetUseBy', (SELECT use_by FROM use_by_readings WHERE use_by_readings.thing_id = things.id ORDER BY sequence DESC LIMIT 1))
     FROM open_containers JOIN consumables ON consumables.part_id = open_containers.part_id WHERE open_containers.thing_id = things.id)`;

const ownWords: Record<ThingKind, string> = {
  U: `, ${typeName} AS "typeName", units.grade`,
  L: `, (SELECT number FROM part_numbers WHERE part_id = parts.id AND is_main) AS number, lots.source, lots.make, ${container} AS container, ${storedFacts}`,
  C: '',
  X: '',
};

/**
 * What the screen needs of a thing, by the code on its label, whose letter tells the kind. Each kind has a statement of its
 * own: one for all would cost Postgres twice as much, for opening tables in which the thing cannot be.
 */
const thingByCode = (kind: ThingKind): string => `
  SELECT things.id, ${nameOfKind[kind]} AS name, parties.name AS owner, held_back_reason AS "heldBackReason", condemned, (SELECT look_again_on FROM kept_for_owners WHERE thing_id = things.id AND kept_for_owner AND ended_at IS NULL) AS "keptUntil", missing_since IS NOT NULL AS "isMissing",
         trim_scale(held)::text AS held, CASE WHEN ${isFree} THEN trim_scale(greatest(held - claimed, 0))::text ELSE '0' END AS free, place.path AS where ${ownWords[kind]}
    FROM codes JOIN things ON things.id = codes.subject_id ${factsOfKind[kind]}
    LEFT JOIN parties ON parties.id = things.owner_id
    LEFT JOIN LATERAL (
      SELECT ${placePath('balances.holder_id')} AS path FROM balances
       WHERE balances.thing_id = things.id AND with_us AND balances.quantity > 0 ORDER BY balances.quantity DESC LIMIT 1) AS place ON true
   WHERE codes.code = $1 AND codes.voided_at IS NULL`;

const thingsByCode: Record<ThingKind, string> = {
  U: thingByCode('U'),
  L: thingByCode('L'),
  C: thingByCode('C'),
  X: thingByCode('X'),
};

const missingWarning = 'looked for and not found: put it away, or say on its page where it is';

const placeByCode = `
  SELECT places.holder_id AS id, places.name, places.kind, places.path,
         (SELECT count(*)::int FROM balances WHERE balances.holder_id = places.holder_id AND quantity > 0) AS things
    FROM codes JOIN places ON places.holder_id = codes.subject_id WHERE codes.code = $1 AND codes.voided_at IS NULL`;

const kindWords = { U: 'unit', L: 'lot', C: 'component', X: 'unsorted' } as const;

/** What the codes of things and places open. */
@Injectable()
export class StoresScanOpeners implements OnModuleInit {
  constructor(
    private readonly registry: ScanRegistry,
    private readonly clock: WorkshopClock,
  ) {}

  onModuleInit(): void {
    for (const kind of ['U', 'L', 'C', 'X'] as const)
      this.registry.register(kind, (reader, code) => this.openThing(reader, kind, code));
    this.registry.register('P', openPlace);
  }

  private async openThing(reader: Reader, kind: ThingKind, code: LabelCode): Promise<ScanAnswer | null> {
    const row = await reader.row<ThingRow>(thingsByCode[kind], [code]);
    if (!row) return null;
    return {
      code,
      kind: kindWords[kind],
      id: row.id,
      voided: false,
      name: row.name,
      detail: detailOf(kind, row),
      where: row.where ?? 'not in stores',
      quantity: row.held,
      free: row.free,
      warning: await this.warningOf(row),
      command: null,
    };
  }

  private async warningOf(row: ThingRow): Promise<string | null> {
    if (row.condemned) return 'condemned';
    if (row.keptUntil !== null) return `kept for its owner: look again on ${formatPlainDate(row.keptUntil)}`;
    if (row.isMissing) return missingWarning;
    if (row.heldBackReason !== null) return `held back: ${row.heldBackReason}`;
    if (row.container) return sayOpen({ ...row.container, isOpen: true }, await this.clock.today());
    if (row.material !== 'rubber' && !row.bearingPacking) return null;
    const life = storageLifeOf(
      {
        material: row.material ?? null,
        polymer: row.polymer ?? null,
        packetRead: row.packetRead ?? '',
        packetEarliest: row.packetEarliest ?? null,
        packetLatest: row.packetLatest ?? null,
        packetCondition: row.packetCondition ?? 'none',
        inspectedOn: row.inspectedOn ?? null,
        bearingPacking: row.bearingPacking ?? null,
        bearingStore: row.bearingStore ?? null,
      },
      await this.clock.today(),
    );
    return storageStop(life);
  }
}

function detailOf(kind: ThingKind, row: ThingRow): string {
  const owner = row.owner === null ? null : `property of ${row.owner}`;
  const facts =
    kind === 'U'
      ? [row.typeName, row.grade ? `grade ${row.grade}` : null, owner]
      : [
          row.number,
          row.source,
          row.make === 'unknown' ? null : row.make,
          row.packetRead ? `packet ${row.packetRead}` : null,
          owner,
        ];
  return facts.filter(Boolean).join(', ');
}

async function openPlace(reader: Reader, code: LabelCode): Promise<ScanAnswer | null> {
  const row = await reader.row<{ id: string; name: string; kind: string; path: string; things: number }>(placeByCode, [code]);
  if (!row) return null;
  return {
    code,
    kind: 'place',
    id: row.id,
    voided: false,
    name: row.name,
    detail: row.kind,
    where: row.path,
    quantity: row.things === 1 ? '1 thing' : `${row.things} things`,
    free: '',
    warning: row.kind === 'quarantine' ? 'quarantine' : null,
    command: null,
  };
}
