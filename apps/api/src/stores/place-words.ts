/** Pieces of SQL that say where something lies. Arguments are columns, never what somebody keyed. */

/** The whole way to a place, the site first: "Stores, Rack 3, Bin 12". */
export function placePath(holderId: string): string {
  return `(SELECT way.path FROM places AS way WHERE way.holder_id = ${holderId})`;
}

/** What a holder is called, whatever it is: a place's path, a unit, a box, a firm, scrap, the count difference. */
export function holderWords(holderId: string, kind: string): string {
  return `CASE ${kind}
    WHEN 'place' THEN ${placePath(holderId)}
    WHEN 'tray' THEN ${placePath(holderId)}
    WHEN 'unit' THEN (SELECT concat_ws(', ', ${codeSaid('held_in.thing_id')},
        (SELECT concat_ws(' ', makers.name, model, nullif(variant, '')) FROM unit_types JOIN makers ON makers.id = maker_id
          WHERE unit_types.id = held_in.unit_type_id)) FROM units AS held_in WHERE held_in.thing_id = ${holderId})
    WHEN 'box' THEN 'box ' || ${codeSaid(holderId)}
    WHEN 'scrap' THEN CASE ${holderId} WHEN '00000000-0000-7000-8000-000000005edd' THEN 'used up' ELSE 'scrap' END
    WHEN 'customer' THEN coalesce((SELECT bought_by.name FROM parties AS bought_by WHERE bought_by.id = ${holderId}), 'a buyer at the counter')
    WHEN 'count-difference' THEN 'the count'
    WHEN 'regrouping' THEN 'another label'
    ELSE coalesce((SELECT held_by.name FROM parties AS held_by WHERE held_by.id = ${holderId}), 'a firm') END`;
}

/**
 * The live code of a subject, of several the one that is shown; else the newest void one, for the record, or the one that went over to the
 * lot that it became part of.
 */
export function codeOf(subjectId: string): string {
  return `coalesce((SELECT given.code FROM codes AS given WHERE given.subject_id = ${subjectId}
    ORDER BY given.voided_at IS NULL DESC, given.further, given.given_at DESC, given.code DESC LIMIT 1),
    (SELECT moved.code FROM codes AS moved WHERE moved.moved_from_id = ${subjectId} ORDER BY moved.given_at, moved.code LIMIT 1))`;
}

/** The same as it is read out: "L 41 7K". */
export function codeSaid(subjectId: string): string {
  return `regexp_replace(${codeOf(subjectId)}, '^(.)(.*)(..)$', '\\1 \\2 \\3')`;
}

/** What a unit is called. Needs the facts of a unit. */
const unitName = `
  coalesce(upper(left(unit_types.kind, 1)) || substr(unit_types.kind, 2), nullif(units.words, ''), 'Unit, not yet identified')`;

/** What a lot is called. Needs the facts of a lot. */
const lotName = `coalesce(parts.name, nullif(lots.words, ''), 'Unnamed part')`;

/** What a thing is, in a few words, for a row or a heading. Needs the joins of `thingFacts`. */
export const thingName = `
  CASE things.kind WHEN 'U' THEN ${unitName} WHEN 'L' THEN ${lotName} WHEN 'C' THEN components.name ELSE unsorted_boxes.words END`;

/** The same for things of one kind, for a statement that joins only what belongs to that kind. */
export const nameOfKind = { U: unitName, L: lotName, C: 'components.name', X: 'unsorted_boxes.words' } as const;

const typeFacts = `
  LEFT JOIN unit_types ON unit_types.id = units.unit_type_id
  LEFT JOIN makers AS type_makers ON type_makers.id = unit_types.maker_id`;

/** Everything that says what a thing is, joined to `things`. */
export const thingFacts = `
  LEFT JOIN units ON units.thing_id = things.id ${typeFacts}
  LEFT JOIN lots ON lots.thing_id = things.id
  LEFT JOIN parts ON parts.id = lots.part_id
  LEFT JOIN components ON components.thing_id = things.id
  LEFT JOIN unsorted_boxes ON unsorted_boxes.thing_id = things.id`;

/** Everything that says what a thing of one kind is, joined to `things`. */
export const factsOfKind = {
  U: `JOIN units ON units.thing_id = things.id ${typeFacts}`,
  L: 'JOIN lots ON lots.thing_id = things.id LEFT JOIN parts ON parts.id = lots.part_id',
  C: 'JOIN components ON components.thing_id = things.id',
  X: 'JOIN unsorted_boxes ON unsorted_boxes.thing_id = things.id',
} as const;

/** Needs the facts of a unit; "Brantock WD7", empty where nobody has identified it. */
export const typeName = `coalesce(concat_ws(' ', type_makers.name, unit_types.model, nullif(unit_types.variant, '')), '')`;

/** Whether somebody said of a box that nothing is left in it, and nobody took that back. */
export function saidEmpty(boxId: string): string {
  return `EXISTS (SELECT FROM box_takings AS said WHERE said.box_id = ${boxId} AND said.kind = 'emptied'
    AND NOT EXISTS (SELECT FROM box_takings AS later WHERE later.undoes_id = said.id))`;
}
