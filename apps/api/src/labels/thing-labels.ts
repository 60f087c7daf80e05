import type { LabelCode } from '@corewright/codes/label-code';
import { componentLabel, lotLabel, unitTags, unsortedLabel } from '@corewright/labels/label-model';
import { decimalFrom, one } from '@corewright/quantities/decimal';
import { formatPlainDate } from '@corewright/quantities/plain-date';
import { storageLifeOf, storageStop } from '../catalogue/storage-life.js';
import type { Reader } from '../platform/database/database.js';
import { goodsInPlace } from '../stores/goods-in-place.js';
import type { LoadNames } from '../stores/later-names.js';
import { unknownOwnerId } from '../stores/ledger.js';
import { type ThingRow, thingRows } from '../stores/thing.queries.js';
import type { LabelSubject } from './label-subject.js';

interface Surroundings extends Record<string, unknown> {
  code: LabelCode;
  id: string;
  placeId: string | null;
  place: string | null;
  inOn: string | null;
  pictureCount: number;
  ratio: string | null;
}

/** The last two names of a place say enough on a bag: "Rack 3, Bin 13". */
const selectSurroundings = `
  SELECT codes.code, subject_id AS id, here.holder_id AS "placeId", here.words AS place,
         (SELECT (occurred_at AT TIME ZONE coalesce((SELECT time_zone FROM workshop), 'UTC'))::date FROM movements
           WHERE thing_id = subject_id ORDER BY sequence LIMIT 1) AS "inOn",
         (SELECT count(*)::integer FROM pictures
           WHERE pictures.subject_id = codes.subject_id AND NOT EXISTS (SELECT FROM picture_strikes WHERE picture_id = pictures.id)) AS "pictureCount",
         (SELECT nullif(ratio, '') FROM units JOIN unit_types ON unit_types.id = unit_type_id WHERE thing_id = subject_id) AS ratio
    FROM codes
    LEFT JOIN LATERAL (
      SELECT places.holder_id, concat_ws(', ', parents.name, places.name) AS words
        FROM balances JOIN places ON places.holder_id = balances.holder_id LEFT JOIN places AS parents ON parents.holder_id = places.parent_id
       WHERE balances.thing_id = subject_id AND quantity > 0 ORDER BY quantity DESC, places.holder_id LIMIT 1) AS here ON true
   WHERE codes.code = ANY ($1::text[])`;

interface Context {
  today: string;
  goodsIn: string | null;
  load: string | null;
}

/** The labels of units, lots, components and unsorted boxes. */
export async function thingLabels(
  reader: Reader,
  codes: readonly LabelCode[],
  today: string,
  loads: LoadNames,
): Promise<ReadonlyMap<LabelCode, LabelSubject>> {
  const surroundings = await reader.rows<Surroundings>(selectSurroundings, [codes]);
  const ids = surroundings.map(({ id }) => id);
  const things = new Map((await thingRows(reader, ids)).map((thing) => [thing.id, thing]));
  const loadNames = await loads.namesOf(reader, ids);
  const goodsIn = await goodsInPlace(reader);
  const subjects = new Map<LabelCode, LabelSubject>();
  for (const around of surroundings) {
    const thing = things.get(around.id);
    if (thing === undefined) continue;
    subjects.set(around.code, labelOf(thing, around, { today, goodsIn, load: loadNames.get(around.id)?.name ?? null }));
  }
  return subjects;
}

function labelOf(thing: ThingRow, around: Surroundings, context: Context): LabelSubject {
  switch (thing.kind) {
    case 'U':
      return { stock: 'tie-on tag', models: unitModels(thing, around, context) };
    case 'L':
      return { stock: 'bag label', models: [lotModel(thing, around, context)] };
    case 'C':
      return { stock: 'bag label', models: [componentModel(thing, around, context)] };
    case 'X':
      return { stock: 'bag label', models: [unsortedModel(thing, around, context)] };
  }
}

function unitModels(thing: ThingRow, around: Surroundings, { load }: Context) {
  const isNamed = thing.typeName !== '';
  return unitTags({
    code: around.code,
    title: thing.name,
    subtitle: isNamed ? joined([thing.typeName, around.ratio]) : 'not yet identified',
    weight: thing.weightKg === null ? 'not weighed' : `about ${thing.weightKg} kg`,
    notes: said([load, around.inOn === null ? null : `in ${formatPlainDate(around.inOn)}`]),
    ...filled({ grade: thing.grade, owner: ownerOf(thing), marks: thing.marks, warning: apartBar(thing) }),
  });
}

function lotModel(thing: ThingRow, around: Surroundings, context: Context) {
  const isSeveral = thing.unitOfMeasure !== null && (thing.unitOfMeasure !== 'each' || decimalFrom(thing.held) > one);
  const unit = thing.unitOfMeasure === 'each' ? 'pieces' : (thing.unitOfMeasure ?? 'pieces');
  return lotLabel({
    code: around.code,
    title: thing.name,
    notes: said([
      thing.thickness === null ? null : `${thing.thickness} mm`,
      thing.fittedOnce ? 'fitted once' : null,
      inspectNote(thing),
      thing.partNumber === null ? thing.marks : null,
    ]),
    ...filled({
      place: placeOf(around, context),
      number: thing.partNumber,
      provenance: provenanceOf(thing),
      quantity: isSeveral ? `${thing.held} ${unit}` : null,
      packet: packetOf(thing),
      owner: ownerOf(thing),
      warning: apartBar(thing) ?? ageBar(thing, context.today),
    }),
  });
}

function componentModel(thing: ThingRow, around: Surroundings, context: Context) {
  const position = thing.componentPosition ?? 1;
  return componentLabel({
    code: around.code,
    unit: (thing.componentUnitCode ?? around.code) as LabelCode,
    number: position,
    count: Math.max(thing.componentCount, position),
    title: thing.name,
    notes: said([thing.componentUnitName, thing.note]),
    ...filled({ place: placeOf(around, context), owner: ownerOf(thing), warning: apartBar(thing) }),
  });
}

function unsortedModel(thing: ThingRow, around: Surroundings, context: Context) {
  const { piecesLeft: left } = thing;
  return unsortedLabel({
    code: around.code,
    words: thing.words,
    photographCount: around.pictureCount,
    ...filled({
      place: placeOf(around, context),
      count: left === null ? null : `about ${left} ${left === 1 ? 'piece' : 'pieces'}`,
      load: context.load,
      owner: ownerOf(thing),
      warning: apartBar(thing),
    }),
  });
}

/** Null for what has no place of its own yet: the label says so. */
function placeOf({ placeId, place }: Surroundings, { goodsIn }: Context): string | null {
  return placeId === goodsIn ? null : place;
}

/** "old stock, Corvane", "bought used, genuine"; what nobody knows is left out. */
function provenanceOf({ source, make, makerName }: ThingRow): string {
  const by = makerName ?? (make === 'unknown' ? null : make);
  return said([source === 'unknown' ? null : source, by]).join(', ');
}

function packetOf({ packetRead, packetCondition }: ThingRow): string | null {
  if (packetRead === '' && packetCondition === 'none') return null;
  const read = packetRead === '' ? 'undated' : packetRead;
  return packetCondition === 'none' ? read : `${read}, ${packetCondition}`;
}

/** Felt, leather, paper and cork have no limit by date, but age: whoever takes them out of the bag looks first. */
function inspectNote({ material }: ThingRow): string | null {
  return ['felt', 'leather', 'paper', 'cork'].includes(material ?? '') ? 'inspect, no limit' : null;
}

function ageBar(thing: ThingRow, today: string): string | null {
  const stop = storageStop(storageLifeOf(thing, today));
  return stop === null ? null : `NOT FOR SERVICE: ${stop}`;
}

/** Null for what is ours. */
function ownerOf({ ownerId, ownerName }: ThingRow): string | null {
  return ownerId === unknownOwnerId ? 'not known' : ownerName;
}

/** What stands apart from stock for good or until its owner is found, across the label; the day to look again with it. */
function apartBar({ condemned, keptKind, keptUntil, ownerId }: ThingRow): string | null {
  if (condemned) return 'NOT FOR SERVICE: condemned';
  if (keptUntil !== null) {
    const what = keptKind === 'found property' || ownerId === unknownOwnerId ? 'FOUND PROPERTY' : 'KEPT FOR ITS OWNER';
    return `${what}: look again ${formatPlainDate(keptUntil)}`;
  }
  return null;
}

function joined(words: readonly (string | null)[]): string {
  return said(words).join(' · ');
}

function said(words: readonly (string | null)[]): string[] {
  return words.filter((word): word is string => word !== null && word !== '');
}

/** Leaves out what nobody has said. */
function filled<Key extends string>(fields: Record<Key, string | null>): { [Field in Key]?: string } {
  return Object.fromEntries(Object.entries(fields).filter(([, words]) => words !== null && words !== '')) as {
    [Field in Key]?: string;
  };
}
