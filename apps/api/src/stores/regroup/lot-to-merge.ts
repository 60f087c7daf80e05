import type { LabelCode } from '@corewright/codes/label-code';
import { decimalFrom, zero } from '@corewright/quantities/decimal';
import type { Reader } from '../../platform/database/database.js';
import { invariant } from '../../platform/refusal.js';
import { boundSetOf } from '../kept-sets/kept-set.queries.js';
import { type LockedThing, whereIs } from '../ledger.js';
import { holderWords } from '../place-words.js';
import { type ThingRow, thingRow } from '../thing.queries.js';
import type { LotFact, ToMerge } from './decide-merge.js';

interface Further extends Record<string, unknown> {
  makerId: string | null;
  donorPosition: number | null;
  setId: string | null;
  isOpen: boolean;
  useBy: string | null;
  keptWhy: string | null;
  lifterId: string | null;
  lifter: string | null;
  lookAgainOn: string | null;
}

const selectFurther = `
  SELECT maker_id AS "makerId", donor_position AS "donorPosition", ${boundSetOf('lots.thing_id')} AS "setId",
         EXISTS (SELECT FROM open_containers WHERE open_containers.thing_id = lots.thing_id) AS "isOpen",
         (SELECT use_by FROM use_by_readings WHERE use_by_readings.thing_id = lots.thing_id ORDER BY sequence DESC LIMIT 1) AS "useBy",
         (SELECT reason FROM kept_for_jobs WHERE kept_for_jobs.thing_id = lots.thing_id AND lifted_at IS NULL LIMIT 1) AS "keptWhy",
         hold_lifter_id AS "lifterId", people.display_name AS lifter, hold_look_again_on AS "lookAgainOn"
    FROM lots JOIN things ON things.id = thing_id LEFT JOIN people ON people.id = hold_lifter_id WHERE thing_id = $1`;
const selectElsewhere = `
  SELECT CASE holders.kind WHEN 'outworker' THEN 'with ' ELSE 'in ' END || ${holderWords('holders.id', 'holders.kind')} AS words
    FROM balances JOIN holders ON holders.id = holder_id
   WHERE thing_id = $1 AND quantity > 0 AND holders.kind IN ('tray', 'unit', 'box', 'outworker') ORDER BY quantity DESC, holder_id`;

/** What the books say of a lot that is locked, as two of them are compared. */
export async function lotToMerge(reader: Reader, thing: LockedThing): Promise<ToMerge> {
  const [row, further, elsewhere, balances] = await Promise.all([
    thingRow(reader, thing.id),
    reader.row<Further>(selectFurther, [thing.id]),
    reader.rows<{ words: string }>(selectElsewhere, [thing.id]),
    whereIs(reader, thing.id),
  ]);
  invariant(row, 'a locked thing is in the books');
  return {
    code: row.code as LabelCode,
    isLot: thing.kind === 'L',
    isNamed: row.partId !== null,
    isMissing: thing.missingSince !== null,
    isOfKeptSet: further?.setId != null,
    isKeptForOwner: thing.keptForOwner,
    isOpen: further?.isOpen ?? false,
    facts: further === null ? [] : factsOf(row, further),
    elsewhere: elsewhere.map(({ words }) => words),
    isHere: balances.some(({ kind, quantity }) => kind === 'place' && decimalFrom(quantity) > zero),
  };
}

function factsOf(row: ThingRow, further: Further): LotFact[] {
  const { makerId, donorPosition } = further;
  const said = (what: string, value: string | null, none = 'not said'): LotFact => ({
    what,
    key: value ?? '',
    shown: value || none,
  });
  return [
    { what: 'part', key: row.partId ?? '', shown: [row.partName, row.partNumber].filter(Boolean).join(' ') },
    { what: 'owner', key: row.ownerId ?? '', shown: row.ownerName ?? 'the workshop' },
    said('source', row.source),
    said('make', row.make),
    { what: 'maker', key: makerId ?? '', shown: row.makerName ?? 'not said' },
    said('marks', row.marks, 'none'),
    said('condition', row.condition),
    {
      what: 'packet date',
      key: [row.packetRead, row.packetPrecision, row.packetEarliest, row.packetLatest].join('|'),
      shown: row.packetRead || 'undated',
    },
    said('packet', row.packetCondition),
    said('fitted once', row.fittedOnce ? 'yes' : 'no'),
    {
      what: 'preservation',
      key: `${row.bearingPacking ?? ''}|${row.bearingStore ?? ''}`,
      shown: [row.bearingPacking, row.bearingStore].filter(Boolean).join(', ') || 'not said',
    },
    {
      what: 'out of',
      key: `${row.donorUnitId ?? ''}|${donorPosition ?? ''}`,
      shown: row.donorCode === null ? 'no unit' : `${row.donorCode}, ${donorPosition ?? 'position not said'}`,
    },
    said('thickness', row.thickness === null ? null : `${row.thickness} mm`),
    said('passed an inspection on', row.inspectedOn, 'not inspected'),
    said('held back', row.heldBackReason, 'no'),
    { what: 'who may lift the hold', key: further.lifterId ?? '', shown: further.lifter ?? 'whoever keeps the books' },
    said('to be looked at again on', further.lookAgainOn, 'no day'),
    said('use-by', further.useBy, 'not read'),
    said('kept for own jobs', further.keptWhy, 'no'),
    said('condemned', row.condemned ? 'yes' : 'no'),
  ];
}
