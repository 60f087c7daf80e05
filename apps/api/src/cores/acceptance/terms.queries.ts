import { type AcceptanceTerms, type CorePoint, CorePoint as Points } from '@corewright/contracts/acceptance';
import { restOfShares } from '@corewright/costing/judge-core';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { formatMoney, type Money } from '@corewright/quantities/money';
import { unitTypeName } from '../../catalogue/unit-type.queries.js';
import type { Reader } from '../../platform/database/database.js';

interface Row extends Record<CorePoint, string>, Record<string, unknown> {
  typeName: string;
  fullCredit: string | null;
  currency: string;
  version: number;
  components: { position: number; name: string; share: string }[];
}

/** One statement, so that the shares are those of the version. */
const selectTerms = `
  SELECT ${unitTypeName} AS "typeName", ${Points.options.map((point) => `coalesce(${point}, '') AS ${point}`).join(', ')},
         full_credit_minor::text AS "fullCredit", (SELECT currency FROM workshop) AS currency, coalesce(acceptance_terms.version, 0) AS version,
         (SELECT coalesce(json_agg(json_build_object('position', position, 'name', name, 'share', trim_scale(share)::text) ORDER BY position), '[]')
            FROM acceptance_shares JOIN unit_type_components USING (unit_type_id, position)
           WHERE acceptance_shares.unit_type_id = unit_types.id) AS components
    FROM unit_types JOIN makers ON makers.id = maker_id LEFT JOIN acceptance_terms ON acceptance_terms.unit_type_id = unit_types.id
   WHERE unit_types.id = $1`;

/** What is asked of a core of a type, with what a full one is credited with; null for a type that is not in the books. */
export async function acceptanceTerms(reader: Reader, unitTypeId: string): Promise<AcceptanceTerms | null> {
  const row = await reader.row<Row>(selectTerms, [unitTypeId]);
  if (row === null) return null;
  const { typeName, fullCredit, currency, version, components } = row;
  return {
    unitType: { id: unitTypeId, name: typeName },
    points: Points.options.map((point) => ({ point, acceptable: row[point] })),
    components,
    rest: formatDecimal(restOfShares(components.map(({ share }) => decimalFrom(share)))),
    fullCredit: fullCredit === null ? null : formatMoney(BigInt(fullCredit) as Money, currency),
    currency,
    version,
  };
}
