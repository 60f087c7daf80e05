import { ThingCost } from '@corewright/contracts/costs';
import { queryOptions, useQuery } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { useKeepsBooks } from '../../api/session.js';
import { Code } from '../../ui/Code.js';
import { Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { sayChange, sayMoney } from '../../ui/say-money.js';
import { sayInstant } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { Timeline } from '../../ui/Timeline.js';
import { sayNotKnown, WAYS } from '../goods-in/cost-actions.js';

/** What a thing cost and where that comes from: the value ledger beside its movements. Only for those who keep the books. */
export const thingCostQuery = (thingId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', thingId, 'cost'],
    queryFn: ({ signal }) => api.get(ThingCost, `/api/things/${thingId}/cost`, { signal }),
  });

export function ThingCostSection({ thingId }: { readonly thingId: string }) {
  return useKeepsBooks() ? <KeptCost thingId={thingId} /> : null;
}

function KeptCost({ thingId }: { readonly thingId: string }) {
  const cost = useQuery(thingCostQuery(thingId));
  return (
    <Section title="What it cost" aside={cost.data === undefined ? undefined : <Amount cost={cost.data} />}>
      {cost.isPending && <Waiting>Fetching what it cost …</Waiting>}
      {cost.isError && <Failure error={cost.error} word="Not shown" />}
      {cost.data !== undefined && <CostShown cost={cost.data} thingId={thingId} />}
    </Section>
  );
}

function Amount({ cost }: { readonly cost: ThingCost }) {
  return cost.amount === null ? <>not known</> : <b>{sayMoney(cost.amount, cost.currency)}</b>;
}

function CostShown({ cost, thingId }: { readonly cost: ThingCost; readonly thingId: string }) {
  const gaps = sayNotKnown(cost.notKnown);
  return (
    <>
      <p>
        {cost.words} {gaps !== '' && <b>So far: {gaps}.</b>}{' '}
        {cost.carriedFrom !== null && <Go href={`/stores/things/${cost.carriedFrom.id}`}>Look at that lot</Go>}
      </p>
      {cost.parts.length > 1 && (
        <Table
          caption="What each part of it cost"
          columns={partColumns(cost.currency)}
          rows={cost.parts}
          rowKey={(part) => part.words}
        />
      )}
      {cost.entries.length > 0 && (
        <Timeline
          label="What it cost, entry by entry, newest first"
          entries={cost.entries.map((entry) => ({
            id: entry.id,
            when: sayInstant(entry.at, new Date()),
            words: (
              <>
                <b>{sayChange(entry.amount, cost.currency)}</b> {KINDS[entry.kind]}
                {entry.passing !== null && <PassedWords passing={entry.passing} thingId={thingId} currency={cost.currency} />}
                {entry.load !== null && (
                  <>
                    {' '}
                    of <Go href={`/goods-in/${entry.load.id}`}>{entry.load.name}</Go>
                  </>
                )}{' '}
                <span className="quiet">{[entry.why, entry.by].filter((words) => words !== '').join(', ')}</span>
              </>
            ),
          }))}
        />
      )}
    </>
  );
}

interface PassedProps {
  readonly passing: NonNullable<ThingCost['entries'][number]['passing']>;
  readonly thingId: string;
  readonly currency: string;
}

/** "from U 000412 21, its share of £120.00 by what each is worth"; of the unit itself, that it went to what came out of it. */
function PassedWords({ passing: { whole, bore, way }, thingId, currency }: PassedProps) {
  const by = `of ${sayMoney(bore, currency)} by ${WAYS.find((each) => each.value === way)?.label}`;
  if (whole.id === thingId) return <>, to what came out of it, {by}</>;
  return (
    <>
      {' '}
      from{' '}
      <Go href={`/stores/things/${whole.id}`}>
        <Code code={whole.code} /> {whole.name}
      </Go>
      , its share {by}
    </>
  );
}

const KINDS: Readonly<Record<ThingCost['entries'][number]['kind'], string>> = {
  'load share': 'by sharing the cost',
  adjustment: 'put right',
  'passed on': 'passed on',
  'opening stock': 'said of opening stock',
};

function partColumns(currency: string): readonly Column<ThingCost['parts'][number]>[] {
  return [
    { key: 'where', head: 'where', isLead: true, cell: (part) => part.words },
    { key: 'quantity', head: 'quantity', isNumeric: true, cell: (part) => part.quantity },
    { key: 'amount', head: 'cost', isNumeric: true, cell: (part) => sayMoney(part.amount, currency) },
  ];
}
