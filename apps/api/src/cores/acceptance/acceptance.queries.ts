import type { Acceptance, AcceptanceTerms, CoreSuggested, FillInAcceptance } from '@corewright/contracts/acceptance';
import { formatMoney, type Money } from '@corewright/quantities/money';
import { unitTypeName } from '../../catalogue/unit-type.queries.js';
import type { Reader } from '../../platform/database/database.js';
import { codeOf, thingFacts, thingName } from '../../stores/place-words.js';

/** What a sheet was judged by, as it was on the day: kept with it. */
export interface JudgedBy extends Pick<AcceptanceTerms, 'points' | 'components' | 'fullCredit'> {
  grades: string[];
}
export type Answered = Pick<FillInAcceptance, 'points' | 'components'>;

interface Row extends Record<string, unknown> {
  id: string;
  unitId: string;
  unitCode: string;
  unitName: string;
  unitTypeId: string;
  typeName: string;
  answers: Answered;
  inputs: JudgedBy;
  suggestion: CoreSuggested;
  currency: string;
  by: string;
  at: string;
  superseded: boolean;
  grade: string | null;
  credit: string | null;
  why: string | null;
  decidedBy: string | null;
  decidedAt: string | null;
}

const columns = `
  SELECT acceptances.id, acceptances.unit_id AS "unitId", coalesce(${codeOf('acceptances.unit_id')}, '') AS "unitCode",
         (SELECT ${thingName} FROM things ${thingFacts} WHERE things.id = acceptances.unit_id) AS "unitName",
         acceptances.unit_type_id AS "unitTypeId",
         (SELECT ${unitTypeName} FROM unit_types JOIN makers ON makers.id = maker_id WHERE unit_types.id = acceptances.unit_type_id) AS "typeName",
         answers, inputs, suggestion, currency, lookers.display_name AS by, recorded_at AS at,
         EXISTS (SELECT FROM acceptances AS later WHERE later.supersedes_id = acceptances.id) AS superseded,
         decided.grade, credit_minor::text AS credit, why, deciders.display_name AS "decidedBy", decided_at AS "decidedAt"
    FROM acceptances JOIN people AS lookers ON lookers.id = acceptances.person_id
    LEFT JOIN acceptance_decisions AS decided ON acceptance_id = acceptances.id LEFT JOIN people AS deciders ON deciders.id = decided.person_id`;
const selectOfUnit = `${columns} WHERE acceptances.unit_id = $1 ORDER BY recorded_at DESC, acceptances.id DESC`;
const selectOne = `${columns} WHERE acceptances.id = $1`;

/** The sheets that were filled in for a unit, the newest first. */
export async function acceptancesOf(reader: Reader, unitId: string): Promise<Acceptance[]> {
  return (await reader.rows<Row>(selectOfUnit, [unitId])).map(shown);
}

export async function acceptanceOf(reader: Reader, id: string): Promise<Acceptance | null> {
  const row = await reader.row<Row>(selectOne, [id]);
  return row && shown(row);
}

function shown(row: Row): Acceptance {
  const { id, inputs, answers, currency, by, at, superseded } = row;
  const points = new Map(answers.points.map((each) => [each.point, each]));
  const components = new Map(answers.components.map((each) => [each.position, each]));
  return {
    id,
    unit: { id: row.unitId, code: row.unitCode, name: row.unitName },
    unitType: { id: row.unitTypeId, name: row.typeName },
    points: inputs.points.map((asked) => ({ ...asked, ...answerOf(points.get(asked.point)) })),
    components: inputs.components.map((asked) => ({ ...asked, ...answerOf(components.get(asked.position)) })),
    grades: inputs.grades,
    fullCredit: inputs.fullCredit,
    currency,
    suggested: row.suggestion,
    by,
    at,
    superseded,
    decision: decisionOf(row),
  };
}

function answerOf(said: Pick<Answered['points'][number], 'answer' | 'note'> | undefined) {
  return { answer: said?.answer ?? ('not looked at' as const), note: said?.note ?? '' };
}

function decisionOf({ grade, credit, why, decidedBy, decidedAt, currency }: Row): Acceptance['decision'] {
  if (grade === null || decidedAt === null) return null;
  const amount = credit === null ? null : formatMoney(BigInt(credit) as Money, currency);
  return { grade, credit: amount, why: why ?? '', by: decidedBy ?? '', at: decidedAt };
}

const selectDecided = `
  SELECT grade, display_name AS by FROM acceptance_decisions JOIN acceptances ON acceptances.id = acceptance_id
    JOIN people ON people.id = acceptance_decisions.person_id
   WHERE unit_id = $1 ORDER BY decided_at DESC, acceptance_id DESC LIMIT 1`;

/** The grade that was decided last for a unit, and by whom; null where nobody has decided one by a sheet. */
export function gradeDecided(reader: Reader, unitId: string): Promise<{ grade: string; by: string } | null> {
  return reader.row<{ grade: string; by: string }>(selectDecided, [unitId]);
}

/** The same for somebody who is not told what things cost. */
export function withoutMoney(acceptance: Acceptance): Acceptance {
  const { suggested, decision } = acceptance;
  const { least, most } = suggested;
  return {
    ...acceptance,
    fullCredit: null,
    suggested: { ...suggested, least: { ...least, credit: null }, most: { ...most, credit: null } },
    decision: decision && { ...decision, credit: null },
  };
}
