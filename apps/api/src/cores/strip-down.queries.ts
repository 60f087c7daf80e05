import type { StripComponent, StripDown, StripFinding, TypeComponent } from '@corewright/contracts/cores';
import type { PictureShown } from '@corewright/contracts/pictures';
import { formatDecimal } from '@corewright/quantities/decimal';
import type { Reader } from '../platform/database/database.js';
import { keptSets, setsOfUnit } from '../stores/kept-sets/kept-set.queries.js';
import type { ClaimantNames, UnitJobs } from '../stores/later-names.js';
import { picturesOf } from '../stores/pictures/picture.queries.js';
import { codeOf, holderWords, thingFacts, thingName } from '../stores/place-words.js';
import { fittedHere } from './fitted-here.js';
import { componentsOf, type StripDownRow, stripDownRow } from './lock-strip-down.js';
import { type ComponentState, toLookAtOf, undecidedOf } from './strip-state.js';
import { typeComponents } from './type-components/type-component.queries.js';

interface HeadRow extends Record<string, unknown> {
  unitName: string;
  typeName: string | null;
  ownerId: string | null;
  ownerName: string | null;
  begunBy: string;
  begunAt: string;
  closedBy: string | null;
  closedAt: string | null;
  people: string[];
}

const selectHead = `
  SELECT ${thingName} AS "unitName", nullif(concat_ws(' ', type_makers.name, model, nullif(variant, '')), '') AS "typeName",
         things.owner_id AS "ownerId", owners.name AS "ownerName", beginners.display_name AS "begunBy", begun_at AS "begunAt",
         closers.display_name AS "closedBy", closed_at AS "closedAt",
         ARRAY(SELECT display_name FROM people JOIN strip_findings ON person_id = people.id
                WHERE strip_down_id = strip_downs.id GROUP BY people.id ORDER BY min(recorded_at)) AS people
    FROM strip_downs JOIN things ON things.id = unit_id ${thingFacts}
    JOIN people AS beginners ON beginners.id = begun_by LEFT JOIN people AS closers ON closers.id = closed_by
    LEFT JOIN parties AS owners ON owners.id = things.owner_id
   WHERE strip_downs.id = $1`;

interface FindingRow extends Record<string, unknown>, Omit<StripFinding, 'thing' | 'pictures'> {
  thingId: string | null;
  thingCode: string | null;
  thingName: string | null;
}

const findingColumns = `
  SELECT found.id, found.position, found.name, found.kind, trim_scale(found.quantity)::text AS quantity, found.finding, found.words, found.disposition,
         found.looked_at AS "lookedAt", found.stamped, trim_scale(found.thickness_mm)::text AS thickness, found.owners_word AS "ownersWord",
         things.id AS "thingId", ${codeOf('things.id')} AS "thingCode", ${thingName} AS "thingName",
         coalesce((SELECT ${holderWords('holders.id', 'holders.kind')} FROM balances JOIN holders ON holders.id = holder_id
           WHERE balances.thing_id = things.id AND balances.quantity > 0 ORDER BY balances.quantity DESC, holders.id LIMIT 1), '') AS where,
         people.display_name AS by, found.recorded_at AS at,
         EXISTS (SELECT FROM strip_findings AS later WHERE later.supersedes_id = found.id) AS superseded
    FROM strip_findings AS found JOIN people ON people.id = found.person_id LEFT JOIN things ON things.id = found.thing_id ${thingFacts}`;
const findingsOfStripDown = `${findingColumns} WHERE strip_down_id = $1 ORDER BY superseded, found.recorded_at, found.id`;
const findingById = `${findingColumns} WHERE found.id = $1`;

const takenBefore = `
  SELECT position, thing_id AS id, ${codeOf('thing_id')} AS code, name FROM components
   WHERE unit_id = $1 AND NOT EXISTS (SELECT FROM strip_findings WHERE strip_findings.thing_id = components.thing_id AND strip_down_id = $2)
     AND EXISTS (SELECT FROM codes WHERE subject_id = components.thing_id AND voided_at IS NULL)
   ORDER BY position, piece`;

const latestOfUnit = 'SELECT id FROM strip_downs WHERE unit_id = $1 ORDER BY begun_at DESC, id DESC LIMIT 1';

export async function latestStripDown(reader: Reader, unitId: string): Promise<string | null> {
  return (await reader.row<{ id: string }>(latestOfUnit, [unitId]))?.id ?? null;
}

export async function findingShown(reader: Reader, id: string): Promise<StripFinding | null> {
  const [row, pictures] = await Promise.all([reader.row<FindingRow>(findingById, [id]), picturesOf(reader, [id])]);
  return row && shown(row, pictures);
}

function shown({ thingId, thingCode, thingName: name, ...row }: FindingRow, pictures: readonly PictureShown[]): StripFinding {
  return {
    ...row,
    thing: thingId === null ? null : { id: thingId, code: thingCode ?? '', name: name ?? '' },
    pictures: pictures.filter((picture) => picture.subjectId === row.id),
  };
}

const findingIds = 'SELECT id FROM strip_findings WHERE strip_down_id = $1';

async function picturesOfFindings(reader: Reader, stripDownId: string): Promise<PictureShown[]> {
  const ids = await reader.rows<{ id: string }>(findingIds, [stripDownId]);
  return picturesOf(
    reader,
    ids.map(({ id }) => id),
  );
}

export interface NamesOfStripDown {
  jobs: UnitJobs;
  claimants: ClaimantNames;
}

/** A strip-down with every component: what is expected, what was found, what has no fate yet. Null for none. */
export async function stripDownShown(reader: Reader, id: string, names: NamesOfStripDown): Promise<StripDown | null> {
  const row = await stripDownRow(reader, id);
  const head = await reader.row<HeadRow>(selectHead, [id]);
  if (row === null || head === null) return null;
  const [states, findings, pictures, before, sets, job, expected, fitted] = await Promise.all([
    componentsOf(reader, row),
    reader.rows<FindingRow>(findingsOfStripDown, [id]),
    picturesOfFindings(reader, id),
    reader.rows<{ position: number; id: string; code: string; name: string }>(takenBefore, [row.unitId, id]),
    setsOfUnit(reader, row.unitId).then((ids) => keptSets(reader, ids, names.claimants)),
    names.jobs.nameOf(reader, row.unitId),
    typeComponents(reader, row.unitTypeId),
    fittedHere(reader, row.unitId),
  ]);
  return {
    id,
    unit: { id: row.unitId, code: row.unitCode, name: head.unitName },
    unitType: typeOf(row, head),
    owner: head.ownerId === null ? null : { id: head.ownerId, name: head.ownerName ?? '' },
    job,
    begunBy: head.begunBy,
    begunAt: head.begunAt,
    closedBy: head.closedBy,
    closedAt: head.closedAt,
    people: head.people,
    components: states.map((state) => ({
      ...componentShown(state, expected),
      fittedHere: fitted
        .filter((each) => state.partId !== null && each.partId === state.partId)
        .map(({ thingId, code, name, left }) => ({ id: thingId, code, name, quantity: formatDecimal(left) })),
      takenBefore: before.filter((each) => each.position === state.position).map(({ position: _, ...coded }) => coded),
      findings: findings.filter((finding) => finding.position === state.position).map((finding) => shown(finding, pictures)),
    })),
    keptSets: sets,
  };
}

function typeOf({ unitTypeId }: StripDownRow, { typeName }: HeadRow): StripDown['unitType'] {
  return unitTypeId === null ? null : { id: unitTypeId, name: typeName ?? '' };
}

function componentShown(
  state: ComponentState,
  expected: readonly TypeComponent[],
): Omit<StripComponent, 'takenBefore' | 'fittedHere' | 'findings'> {
  const known = expected.find((each) => each.position === state.position);
  return {
    position: state.position,
    name: state.name,
    quantity: formatDecimal(state.quantity),
    part: known?.part ?? null,
    mustBeLookedAt: state.mustBeLookedAt,
    usualFate: state.usualFate,
    keptSet: state.keptSet,
    isMainCasing: known?.isMainCasing ?? false,
    keepsThickness: state.keepsThickness,
    isExtra: state.isExtra,
    undecided: formatDecimal(undecidedOf(state)),
    toLookAt: formatDecimal(toLookAtOf(state)),
  };
}
