import type { SaleBrief, SaleTotal } from '@corewright/contracts/selling';
import { useInfiniteQuery, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks } from '../../../api/session.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayMoney } from '../../../ui/say-money.js';
import { sayDay } from '../../../ui/say-when.js';
import { type Column, Table } from '../../../ui/Table.js';
import { salesQuery, saleTotalsQuery } from './queries.js';

const COLUMNS: readonly Column<SaleBrief>[] = [
  {
    key: 'number',
    head: 'receipt',
    isLead: true,
    width: '140px',
    cell: (sale) => <Go href={`/stores/sales/${sale.id}`}>Receipt {sale.number}</Go>,
  },
  { key: 'day', head: 'sold on', cell: (sale) => sayDay(sale.on) },
  { key: 'what', head: 'what', cell: (sale) => sale.words },
  { key: 'buyer', head: 'to', cell: (sale) => (sale.buyer === '' ? <span className="quiet">nobody named</span> : sale.buyer) },
  { key: 'total', head: 'total', isNumeric: true, cell: (sale) => sayMoney(sale.total, sale.currency) },
  {
    key: 'back',
    head: 'taken back',
    cell: (sale) => (sale.takenBack === 'no' ? '' : `${sale.takenBack}: ${sayMoney(sale.givenBack, sale.currency)}`),
  },
  { key: 'by', head: 'by', cell: (sale) => sale.by },
];

/** What was sold at the counter, the newest first, with what it came to for those who keep the books. */
export function SalesScreen() {
  const sales = useInfiniteQuery(salesQuery);
  const keepsBooks = useKeepsBooks();
  const all = sales.data?.pages.flatMap((page) => page.sales) ?? [];
  return (
    <>
      <PageHead
        title="What was sold"
        note="Each receipt has a number of its own, without a gap; what came back stays on it."
        acts={
          <Acts>
            <ButtonLink look="main" href="/stores/sell">
              Counter sale
            </ButtonLink>
            {keepsBooks && (
              <ButtonLink href="/api/exports/sales" opensDocument>
                All of it as CSV
              </ButtonLink>
            )}
          </Acts>
        }
      />
      {sales.isPending && <Waiting>Fetching the receipts …</Waiting>}
      {sales.isError && (
        <Failure error={sales.error} word="Not shown" choices={<Button onPress={() => void sales.refetch()}>Try again</Button>} />
      )}
      {sales.isSuccess && all.length === 0 && (
        <Empty title="Nothing was sold yet">Begin a counter sale and scan what is sold: its receipt comes here.</Empty>
      )}
      {keepsBooks && all.length > 0 && <Totals />}
      {all.length > 0 && (
        <Section title="Receipts">
          <Table caption="Receipts" columns={COLUMNS} rows={all} rowKey={(sale) => sale.id} />
        </Section>
      )}
      {sales.hasNextPage && (
        <p>
          <Button onPress={() => void sales.fetchNextPage()} isPending={sales.isFetchingNextPage}>
            Show more receipts
          </Button>
        </p>
      )}
    </>
  );
}

function Totals() {
  const [by, setBy] = useState<'day' | 'month'>('day');
  const totals = useQuery(saleTotalsQuery(by));
  return (
    <Section title="What it came to" aside="by the day of the sale">
      <RadioRow
        label="By"
        value={by}
        onChange={setBy}
        choices={[
          { value: 'day', label: 'day' },
          { value: 'month', label: 'month' },
        ]}
      />
      {totals.isError && <Failure error={totals.error} word="Not reckoned" />}
      {totals.data !== undefined && (
        <Table
          caption="What it came to"
          columns={columnsOf(totals.data.currency)}
          rows={totals.data.totals}
          rowKey={(total) => total.period}
        />
      )}
    </Section>
  );
}

function columnsOf(currency: string): readonly Column<SaleTotal>[] {
  const money = (amount: string) => sayMoney(amount, currency);
  return [
    { key: 'period', head: 'when', isLead: true, cell: ({ period }) => (period.length === 7 ? period : sayDay(period)) },
    { key: 'receipts', head: 'receipts', isNumeric: true, cell: ({ receipts }) => receipts },
    { key: 'sold', head: 'sold', isNumeric: true, cell: ({ sold }) => money(sold) },
    { key: 'back', head: 'given back', isNumeric: true, cell: ({ givenBack }) => money(givenBack) },
    { key: 'cost', head: 'known cost', isNumeric: true, cell: ({ cost }) => money(cost) },
    { key: 'margin', head: 'margin of these', isNumeric: true, cell: ({ margin }) => money(margin) },
    { key: 'unknown', head: 'lines of unknown cost', isNumeric: true, cell: ({ unknownCosts }) => unknownCosts },
  ];
}
