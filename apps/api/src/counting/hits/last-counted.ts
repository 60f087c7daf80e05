import type { LastCounted } from '@corewright/contracts/counting';
import { decimalFrom, formatDecimal, subtractDecimals, zero } from '@corewright/quantities/decimal';
import type { Reader } from '../../platform/database/database.js';
import { placePath } from '../../stores/place-words.js';

const shown = 5;

const selectOfThing = `
  SELECT counts.id AS "countId", number, occurred_at AS at, display_name AS by, agreed, counted, books, ${placePath('count_lines.place_id')} AS place
    FROM count_lines JOIN counts ON counts.id = count_id JOIN people ON people.id = count_lines.person_id
   WHERE thing_id = $1 ORDER BY occurred_at DESC, number DESC LIMIT ${shown}`;
/** Of a place: the last who said there that all is scanned, and how many of its lines agreed. */
const selectOfPlace = `
  SELECT counts.id AS "countId", number, closed.at, closed.by, lines.agreed = lines.all AS agreed, lines.agreed AS "right", lines.all AS counted
    FROM counts
    JOIN LATERAL (SELECT occurred_at AS at, display_name AS by FROM count_closings JOIN people ON people.id = person_id
                   WHERE count_id = counts.id AND place_id = $1 ORDER BY sequence DESC LIMIT 1) AS closed ON true
    JOIN LATERAL (SELECT count(*)::int AS all, count(*) FILTER (WHERE agreed)::int AS agreed FROM count_lines WHERE count_id = counts.id AND place_id = $1) AS lines ON true
   WHERE ending = 'posted' ORDER BY closed.at DESC, number DESC LIMIT ${shown}`;

interface Base extends Record<string, unknown> {
  countId: string;
  number: number;
  at: string;
  by: string;
  agreed: boolean;
}

/** What posted counts have said of a thing, newest first. */
export async function lastCountedOfThing(reader: Reader, thingId: string): Promise<LastCounted> {
  const rows = await reader.rows<Base & { counted: string; books: string; place: string }>(selectOfThing, [thingId]);
  return {
    counted: rows.map(({ countId, number, at, by, agreed, counted, books, place }) => ({
      countId,
      number,
      at,
      by,
      agreed,
      words: `${place}: ${sayDifference(counted, books)}`,
    })),
  };
}

/** The same of a place. */
export async function lastCountedOfPlace(reader: Reader, placeId: string): Promise<LastCounted> {
  const rows = await reader.rows<Base & { right: number; counted: number }>(selectOfPlace, [placeId]);
  return {
    counted: rows.map(({ countId, number, at, by, agreed, right, counted }) => ({
      countId,
      number,
      at,
      by,
      agreed,
      words:
        counted === 0
          ? 'nothing lay there'
          : agreed
            ? `all ${counted} lines agreed`
            : `${counted - right} of ${counted} lines differed`,
    })),
  };
}

function sayDifference(counted: string, books: string): string {
  const difference = subtractDecimals(decimalFrom(counted), decimalFrom(books));
  const amount = formatDecimal(decimalFrom(counted));
  if (difference === zero) return `${amount} counted, as the books had it`;
  return `${amount} counted, ${formatDecimal(difference < zero ? subtractDecimals(zero, difference) : difference)} ${difference < zero ? 'fewer' : 'more'} than the books had`;
}
