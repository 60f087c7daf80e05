import type { CountHits } from '@corewright/contracts/counting';
import { scoreInterval } from '@corewright/yields/score-interval';
import type { Reader } from '../../platform/database/database.js';
import { placePath } from '../../stores/place-words.js';

const monthsMax = 36;
const countsMax = 60;

const monthOf = `to_char(counts.begun_at AT TIME ZONE workshop.time_zone, 'YYYY-MM')`;
const selectMonths = `
  SELECT * FROM (
    SELECT ${monthOf} AS month, count(*) FILTER (WHERE agreed)::int AS right, count(*)::int AS counted
      FROM count_lines JOIN counts ON counts.id = count_id CROSS JOIN workshop GROUP BY month ORDER BY month DESC LIMIT ${monthsMax}) AS latest
   ORDER BY month`;
const selectCounts = `
  SELECT counts.id, number, coalesce(${placePath('counts.place_id')}, parts.name, '') AS title, (begun_at AT TIME ZONE workshop.time_zone)::date AS on,
         count(*) FILTER (WHERE agreed)::int AS right, count(*)::int AS counted
    FROM counts JOIN count_lines ON count_id = counts.id LEFT JOIN parts ON parts.id = part_id CROSS JOIN workshop
   GROUP BY counts.id, parts.name, workshop.time_zone ORDER BY begun_at DESC, number DESC LIMIT ${countsMax}`;

interface Counted extends Record<string, unknown> {
  right: number;
  counted: number;
}

/** How often the books were right when somebody looked: lines that agreed, of all lines counted, by month and by count. */
export async function countHits(reader: Reader): Promise<CountHits> {
  const months = await reader.rows<Counted & { month: string }>(selectMonths);
  const counts = await reader.rows<Counted & { id: string; number: number; title: string; on: string }>(selectCounts);
  return {
    months: months.map(({ month, ...share }) => ({ month, ...rateOf(share) })),
    counts: counts.map(({ id, number, title, on, ...share }) => ({ id, number, title, on, ...rateOf(share) })),
  };
}

/** In hundredths; the range is rounded outward, so that it never claims more than was reckoned. */
function rateOf({ right, counted }: Counted) {
  const { least, most } = scoreInterval({ right, counted });
  const rate = Math.round((right / counted) * 100);
  const range = { least: Math.floor(least * 100), rate, most: Math.ceil(most * 100) };
  const words = `${right} of ${counted} lines agreed, ${rate} in 100; with 90 % confidence between ${range.least} and ${range.most}.`;
  return { right, counted, ...range, words };
}
