import type { CountHits } from '@corewright/contracts/counting';
import { useQuery } from '@tanstack/react-query';
import { Fold } from '../../../ui/Fold.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { RatePlot } from '../../../ui/RatePlot.js';
import { Section } from '../../../ui/Section.js';
import { sayDay } from '../../../ui/say-when.js';
import { type Column, Table } from '../../../ui/Table.js';
import { countHitsQuery } from './queries.js';

type Month = CountHits['months'][number];
type Count = CountHits['counts'][number];

/** How often the books were right when somebody looked, month by month. */
export function Hits() {
  const hits = useQuery(countHitsQuery);
  if (hits.isError) return <Failure error={hits.error} word="Not reckoned" />;
  if (hits.data === undefined || hits.data.counts.length === 0) return null;
  const { months, counts } = hits.data;
  return (
    <Section title="How often the books were right" aside="lines that agreed, of all lines counted">
      <RatePlot
        label={`Lines that agreed in 100, month by month: ${months.map(({ month, rate }) => `${sayMonth(month)} ${rate}`).join(', ')}.`}
        points={months.map(({ month, least, rate, most }) => ({ key: month, words: sayMonth(month), least, rate, most }))}
      />
      <Table caption="How often the books were right, by month" columns={MONTHS} rows={months} rowKey={({ month }) => month} />
      <Fold summary="By count, and how it is reckoned">
        <Table caption="How often the books were right, by count" columns={COUNTS} rows={counts} rowKey={({ id }) => id} />
        <p>
          A line is a thing at a place. It agreed if what was counted is what the books held there at that moment; a thing that
          was not found, or lay in another place, did not. A second look counts in place of the first. The line through each mark
          spans where the true share may lie with 90 % confidence (Wilson’s score interval, rounded outward): few lines say
          little.
        </p>
      </Fold>
    </Section>
  );
}

const rangeOf = ({ least, most }: { least: number; most: number }): string => `${least} to ${most}`;
const lines = ({ right, counted }: { right: number; counted: number }): string => `${right} of ${counted}`;

const MONTHS: readonly Column<Month>[] = [
  { key: 'month', head: 'month', isLead: true, cell: ({ month }) => sayMonth(month) },
  { key: 'lines', head: 'lines that agreed', isNumeric: true, cell: lines },
  { key: 'rate', head: 'in 100', isNumeric: true, cell: ({ rate }) => rate },
  { key: 'range', head: 'with 90 % confidence', isNumeric: true, cell: rangeOf },
];

const COUNTS: readonly Column<Count>[] = [
  {
    key: 'count',
    head: 'count',
    isLead: true,
    cell: ({ id, number, title }) => (
      <Go href={`/stores/counting/${id}`}>
        Count {number}, {title}
      </Go>
    ),
  },
  { key: 'on', head: 'begun', cell: ({ on }) => sayDay(on) },
  { key: 'lines', head: 'lines that agreed', isNumeric: true, cell: lines },
  { key: 'rate', head: 'in 100', isNumeric: true, cell: ({ rate }) => rate },
  { key: 'range', head: 'with 90 % confidence', isNumeric: true, cell: rangeOf },
];

const monthFormat = new Intl.DateTimeFormat('en-GB', { month: 'short', year: 'numeric', timeZone: 'UTC' });

/** "2026-11" as "Nov 2026". */
function sayMonth(month: string): string {
  return monthFormat.format(new Date(`${month}-01T00:00:00Z`)).replace('Sept', 'Sep');
}
